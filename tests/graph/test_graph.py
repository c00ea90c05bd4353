import networkx as nx
import pytest

from faultkit.errors import KnowledgeError
from faultkit.graph import (
    build_graph,
    candidates,
    explanation,
    missing_needs,
    moves,
    splitting_tests,
)
from tests.belief.made_up import INF, MadeUp, chain


@pytest.fixture
def two_complaints() -> MadeUp:
    made = MadeUp()
    made.symptom("up")
    made.symptom("down")
    made.test("supply", (110.0, 110.0, 2.0))
    made.test("rung", (110.0, 110.0, 2.0), needs=["supply"])
    made.test("coil", 200.0, meter="ohm", when="isolated", needs=["rung"])
    made.test("lamp", "lit", words=("lit", "dark"))
    made.cause("fuse", {"supply": 0.0, "rung": 0.0, "lamp": "dark"},
               shows={"up": 1.0, "down": 1.0})
    made.cause("button", {"rung": 0.0}, shows={"up": 1.0}, remedy="pendant.swap")
    made.cause("button-down", {}, shows={"down": 1.0}, remedy="pendant.swap")
    made.cause("coil", {"coil": INF}, shows={"up": 0.005})
    return made


def test_the_graph_is_frozen(two_complaints: MadeUp) -> None:
    graph = build_graph(two_complaints.prediction())
    assert nx.is_frozen(graph)
    with pytest.raises(nx.NetworkXError):
        graph.add_edge("a", "b")


def test_a_complaint_selects_the_causes_that_could_explain_it(two_complaints: MadeUp) -> None:
    graph = build_graph(two_complaints.prediction())
    assert candidates(graph, ["up"]) == {"fuse", "button"}
    assert candidates(graph, ["up", "down"]) == {"fuse", "button", "button-down"}
    assert candidates(graph, []) == {"fuse", "button", "button-down", "coil"}


def test_only_tests_whose_reading_a_live_cause_moves_can_split(two_complaints: MadeUp) -> None:
    graph = build_graph(two_complaints.prediction())
    assert splitting_tests(graph, ["button"]) == {"rung"}
    assert splitting_tests(graph, ["fuse", "coil"]) == {"supply", "rung", "lamp", "coil"}
    assert splitting_tests(graph, ["button-down"]) == frozenset()


def test_a_reading_is_moved_beyond_its_spread_and_not_within_it() -> None:
    made = MadeUp()
    made.test("volts", (110.0, 110.0, 2.0))
    made.cause("sags", {"volts": (104.0, 104.0, 2.0)})
    made.cause("gone", {"volts": (60.0, 60.0, 2.0)})
    graph = build_graph(made.prediction())
    assert not moves(graph, "sags", "volts")
    assert moves(graph, "gone", "volts")
    assert graph.edges["cause:gone", "test:volts"]["expected"] == 60.0


def test_what_must_come_first_is_listed_in_an_order_that_can_be_made(
    two_complaints: MadeUp,
) -> None:
    graph = build_graph(two_complaints.prediction())
    assert missing_needs(graph, "coil", []) == ("supply", "rung")
    assert missing_needs(graph, "coil", ["supply"]) == ("rung",)
    assert missing_needs(graph, "coil", ["rung"]) == ()


def test_tests_that_need_each_other_are_refused_by_name() -> None:
    made = MadeUp()
    made.test("hen", 1.0, needs=["egg"])
    made.test("egg", 1.0, needs=["hen"])
    made.cause("c", {"egg": 9.0})
    with pytest.raises(KnowledgeError, match=r"hen|egg"):
        build_graph(made.prediction())


def test_an_explanation_leads_from_complaint_to_remedy(two_complaints: MadeUp) -> None:
    graph = build_graph(two_complaints.prediction())
    assert explanation(graph, "fuse", ["up", "down"]) == (
        ("up", "fuse", "fuse.replace"), ("down", "fuse", "fuse.replace"))
    assert explanation(graph, "button", ["down"]) == ()


def test_every_edge_says_what_it_means() -> None:
    graph = build_graph(chain().prediction())
    meanings = {("symptom", "cause"): "explains", ("cause", "test"): "moves",
                ("cause", "remedy"): "cured by", ("test", "test"): "comes before"}
    for tail, head, attributes in graph.edges(data=True):
        assert attributes["means"] == meanings[graph.nodes[tail]["kind"], graph.nodes[head]["kind"]]
