"""What a person types or a file holds is text: no markup, no command to the terminal."""

from dataclasses import replace

import pytest
from textual.pilot import Pilot

from faultkit.commands.opening import JobEngine
from faultkit.errors import UsageError
from faultkit.job.events import (
    BridgeFound,
    CalledOut,
    Closed,
    LoadSecured,
    ProofMade,
    Remarked,
    Repaired,
    SymptomTold,
)
from faultkit.terminal.app import FaultkitApp
from faultkit.vocabulary.says import harmless, on_one_line
from tests.terminal.books import head, noted
from tests.terminal.drawing import signs
from tests.terminal.fake import Listening, OneMachine
from tests.terminal.hands import settled, write

HOSTILE = {
    "markup": "[bold red]x[/bold red] [link=file:x]y[/link] [@click=app.quit]z[/]",
    "unfinished markup": "[bold [/ [] \\[ ]]",
    "escapes": "a\x1b[31mred\x1b[0m\x1b]0;title\x07\x1b[2Jb\x9b5mc",
    "moves": "a\rb\x08c\x0bd\x7fe",
    "turned round": "a\u202eb\u2066c\u200bd",
    "one long word": "W" * 300,
    "wide": "漢字" * 60,
    "lines": "first\nsecond\r\nthird",
}
CONTROLS = {*range(32), *range(127, 160), 0x202e, 0x2066, 0x200b}


def clean(app: FaultkitApp, size: tuple[int, int]) -> str:
    """The screen as text, once no sign in it commands a terminal and nothing sticks out."""
    rows = signs(app)
    text = "\n".join(rows)
    assert not {ord(sign) for row in rows for sign in row} & CONTROLS
    assert len(rows) == size[1]
    return text


@pytest.mark.parametrize("words", HOSTILE.values(), ids=list(HOSTILE))
@pytest.mark.parametrize("size", [(80, 24), (48, 18)])
async def test_words_from_a_store_are_shown_as_they_are(
    winch: JobEngine, words: str, size: tuple[int, int],
) -> None:
    """Events of an import hold whatever somebody put into the file."""
    library = OneMachine(Listening(winch), warning=words)
    library.heads = (head("9e4d00aa11", asset=words, site=words, complaint=words),)
    library.book.text = lambda _: f"# {words}\n\n{words}\n"
    library.kept = {"9e4d00aa11": list(noted((
        CalledOut(words, words, words, words, words, "hanging"), LoadSecured("landed", words),
        SymptomTold("no-up", shows=True), Remarked(words), BridgeFound(words),
        Repaired("Q2.replace", cured=True, note=words),
        ProofMade("emergency stop", False, words, words))))}
    app = FaultkitApp(library, resume="9e4")
    async with app.run_test(size=size) as pilot:
        await settled(pilot)
        texts = [clean(app, size)]
        for key in ("enter", "b", "escape", "n", "escape", "k", "escape", "h", "0", "1", "2",
                    "escape", "escape", "v", "escape", "f1", "escape", "c", "escape", "ctrl+q",
                    "n", "escape", "escape"):
            await pilot.press(key)
            await settled(pilot)
            texts.append(clean(app, size))
    if words == HOSTILE["markup"]:
        assert any("[bold red]x[/bold red]" in text for text in texts)


@pytest.mark.parametrize("words", HOSTILE.values(), ids=list(HOSTILE))
async def test_words_that_are_typed_are_kept_harmless_and_shown(
    winch: JobEngine, words: str,
) -> None:
    library = OneMachine(Listening(winch))
    app = FaultkitApp(library, "winch")
    size = (80, 24)
    async with app.run_test(size=size) as pilot:
        await settled(pilot)
        await pilot.press("enter", "1")
        for digit in "56789":
            await pilot.press(digit)
            await write(pilot, words)
            clean(app, size)
        await pilot.press("0")
        await settled(pilot)
        await pilot.press("2")
        await write(pilot, words)
        await pilot.press("1", "0")
        await settled(pilot)
        for keys in (("n", "1"), ("b", "2")):
            await _type_somewhere(pilot, keys, words)
            clean(app, size)
    told = library.book.noted[0].event
    assert isinstance(told, CalledOut)
    assert told.who == told.asset == told.complaint == on_one_line(words)[:500]
    kept = [one.event for one in library.book.noted]
    assert Remarked(on_one_line(words)[:500]) in kept


async def _type_somewhere(pilot: "Pilot[int]", keys: tuple[str, str], words: str) -> None:
    first, row = keys
    await pilot.press(first)
    await settled(pilot)
    await pilot.press(row if first == "n" else "1")
    await write(pilot, words)
    await pilot.press("escape")
    await settled(pilot)


@pytest.mark.parametrize("words", HOSTILE.values(), ids=list(HOSTILE))
async def test_a_reason_and_a_name_are_shown_as_they_are(winch: JobEngine, words: str) -> None:
    closed = Closed("not fit for use", words, words)
    library = OneMachine(Listening(winch))
    library.heads = (head("9e4d00aa11"),)
    library.kept = {"9e4d00aa11": list(noted((
        CalledOut(load="none"), SymptomTold("no-up", shows=True), closed)))}
    app = FaultkitApp(library, resume="9e4")
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await pilot.press("enter")
        await settled(pilot)
        assert "CLOSED: not fit for use" in clean(app, (80, 24))
        await pilot.press("1")
        await settled(pilot)
        clean(app, (80, 24))


async def test_a_refusal_that_repeats_what_was_typed_is_no_markup(winch: JobEngine) -> None:
    library = OneMachine(Listening(winch))
    library.book = replace(library.book, refuses=UsageError(HOSTILE["markup"] + "\x1b[2J"))
    app = FaultkitApp(library, "winch")
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await pilot.press("enter", "1", "0")
        await settled(pilot)
        text = clean(app, (80, 24))
    assert "! [bold red]x[/bold red]" in text


def test_every_sign_keeps_its_place() -> None:
    for words in HOSTILE.values():
        assert len(harmless(words)) == len(words)
        assert "\n" not in on_one_line(words)
