"""A finger on a phone: real touches, sent to the browser as its own screen would send them."""

from playwright.sync_api import Page

from tests.browser.hands import Board, Pixel

#: Two taps that follow each other within 0.2 s are one double tap to the map.
BETWEEN_TAPS_MS = 250


class Finger:
    """Taps and drags on the screen of a page."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self._screen = page.context.new_cdp_session(page)

    def tap(self, board: Board, *places: Pixel) -> None:
        """Tap places of the map, slowly enough that no two are a double tap."""
        for place in places:
            self.page.touchscreen.tap(*board.on_window(place))
            self.page.wait_for_timeout(BETWEEN_TAPS_MS)

    def drag(self, start: Pixel, end: Pixel, *, steps: int = 8) -> None:
        """Put the finger down in the window, draw it along, and lift it."""
        self._touch("touchStart", start)
        for step in range(1, steps + 1):
            share = step / steps
            here = (
                start[0] + share * (end[0] - start[0]),
                start[1] + share * (end[1] - start[1]),
            )
            self._touch("touchMove", here)
        self._touch("touchEnd")

    def _touch(self, kind: str, *places: Pixel) -> None:
        points = [{"x": round(x), "y": round(y)} for x, y in places]
        self._screen.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})
