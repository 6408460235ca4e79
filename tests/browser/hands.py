"""The drawing board of a property page, as a hand with a mouse finds it."""

import re
from collections.abc import Sequence

from playwright.sync_api import Locator, Page, expect

Pixel = tuple[float, float]


class Board:
    """What a person sees and presses on the page of a property."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.map = page.get_by_role("region", name=re.compile("^Map of"))
        self.table = page.get_by_role("table")
        self.why = page.get_by_label("What changed, and why")
        self.status = page.locator("[data-status]")
        self.save_state = page.locator("[data-save-state]")
        self.said = page.locator("[data-save-said]")
        self.offer = page.locator("[data-draft-bar]")
        # Nothing can be pressed before the map is there.
        expect(self.map).to_have_class(re.compile("leaflet-container"))

    def button(self, name: str) -> Locator:
        """Find a button by the whole of what it says."""
        return self.page.get_by_role("button", name=name, exact=True)

    def choose(self, kind: str) -> None:
        """Open the list of kinds and take one."""
        self.button("Draw a shape").click()
        self.button(kind).click()

    def on_window(self, place: Pixel) -> Pixel:
        """Where a place on the map, counted from its upper left corner, is in the window."""
        box = self.map.bounding_box()
        assert box is not None
        return round(box["x"] + place[0]), round(box["y"] + place[1])

    def click(self, *places: Pixel) -> None:
        """Point at places of the map one after the other, and click each."""
        for place in places:
            x, y = self.on_window(place)
            self.page.mouse.move(x, y, steps=2)
            self.page.mouse.click(x, y)

    def outline(self, kind: str, corners: Sequence[Pixel]) -> None:
        """Draw an area by clicking its corners, and the first once more."""
        self.choose(kind)
        self.click(*corners, corners[0])
        expect(self.status).to_contain_text(f"{kind} added")
        self.button("Done").click()

    def call(self, shape: str, name: str) -> None:
        """Name a shape in the table."""
        self.page.get_by_label(f"Name of {shape}", exact=True).fill(name)
        self.page.keyboard.press("Tab")

    def keep_away(self, shape: str, distance: str) -> None:
        """Enter the distance to keep from a shape in the table."""
        self.page.get_by_label(f"Distance to keep from {shape}", exact=True).fill(distance)
        self.page.keyboard.press("Tab")

    def save(self, why: str) -> None:
        """Save with a reason, and see that it is saved."""
        self.why.fill(why)
        self.button("Save drawing").click()
        expect(self.said).to_contain_text("Saved as drawing")

    def expect_measured(self) -> None:
        """Wait until the figures are those of the drawing as it is now."""
        expect(self.page.locator("[data-totals]")).not_to_have_class(re.compile("behind"))

    def figure(self, name: str) -> Locator:
        """Find a figure under the map: turf, obstacle, no_spray or treatable."""
        return self.page.locator(f"[data-total={name}]")
