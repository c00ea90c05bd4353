"""Contrast as WCAG 2.2 defines it, computed here and not by the library that is tested."""

RGB = tuple[int, int, int]


def luminance(colour: RGB) -> float:
    """Relative luminance of an sRGB colour, in [0, 1]."""
    def linear(channel: int) -> float:
        share = channel / 255
        return share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4

    red, green, blue = (linear(channel) for channel in colour)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: RGB, other: RGB) -> float:
    """Contrast ratio, 1 to 21."""
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)
