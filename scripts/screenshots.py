"""Draw the pictures of the README again, from the demo firm, in a real browser.

Run by ``make screenshots``. The data go into a folder that is thrown away.
"""

import io
import os
import shutil
import socket
import subprocess
import sys
import tempfile
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from PIL import Image
from playwright.sync_api import Page, ViewportSize, sync_playwright

ROOT = Path(__file__).resolve().parent.parent
PICTURES = ROOT / "docs" / "pictures"
CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
QUIET = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
WIDE: ViewportSize = {"width": 1440, "height": 900}
PHONE: ViewportSize = {"width": 390, "height": 780}


@contextmanager
def demo_site() -> Iterator[str]:
    """Serve the demo firm from a folder that is thrown away; gives the address."""
    with tempfile.TemporaryDirectory() as folder, socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
        free.close()
        environment = os.environ | {"SWARDLINE_DATA": folder, "SWARDLINE_DEBUG": "1"}
        for command in (["migrate", "-v0"], ["createcachetable"], ["demo"]):
            subprocess.run(
                [sys.executable, "manage.py", *command],
                cwd=ROOT,
                env=environment,
                check=True,
                stdout=subprocess.DEVNULL,
            )
        serving = [sys.executable, "manage.py", "runserver", "--noreload", f"127.0.0.1:{port}"]
        with subprocess.Popen(
            serving, cwd=ROOT, env=environment, stderr=subprocess.DEVNULL
        ) as site:
            try:
                _wait_for(f"http://127.0.0.1:{port}/account/login/")
                yield f"http://127.0.0.1:{port}"
            finally:
                site.terminate()


def _wait_for(address: str) -> None:
    for _ in range(100):
        try:
            urllib.request.urlopen(address, timeout=5).close()  # noqa: S310
        except (urllib.error.URLError, ConnectionError):
            time.sleep(0.1)
        else:
            return
    raise TimeoutError(address)


def keep(page: Page, name: str) -> None:
    """Keep what the window shows as a small picture."""
    page.wait_for_timeout(1200)
    picture: Image.Image = Image.open(io.BytesIO(page.screenshot()))
    if picture.width > 1200:
        picture = picture.resize((1200, round(picture.height * 1200 / picture.width)))
    picture.save(PICTURES / f"{name}.webp", quality=72, method=6)


def sign_in(page: Page, site: str) -> None:
    """Sign in as the owner of the demo firm."""
    page.goto(f"{site}/account/login/")
    page.get_by_label("Email").fill("ada@example.com")
    page.get_by_label("Password").fill("quiet-meadow-7")
    page.get_by_role("button", name="Sign in").click()
    page.wait_for_url("**/properties/")


def tour(page: Page, site: str, suffix: str) -> None:
    """Walk from the list to a plan, and keep a picture of each page."""
    sign_in(page, site)
    keep(page, f"properties{suffix}")
    page.get_by_role("link", name="Marsh house", exact=True).click()
    keep(page, f"map{suffix}")
    page.get_by_role("link", name="Plan a mix").click()
    page.get_by_label("Machine").select_option(label="Ride-on, 10 ft boom")
    page.get_by_label("Hand tool").select_option(label="Hose reel hand gun")
    page.get_by_label("Wind now", exact=False).first.fill("6")
    page.get_by_label("Wind comes from").fill("W")
    page.get_by_role("button", name="Plan", exact=True).click()
    keep(page, f"plan{suffix}")


def main() -> None:
    """Keep the pictures of both sizes."""
    PICTURES.mkdir(parents=True, exist_ok=True)
    with demo_site() as site, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=QUIET)
        tour(browser.new_page(viewport=WIDE), site, "")
        phone = browser.new_context(viewport=PHONE, has_touch=True, is_mobile=True)
        tour(phone.new_page(), site, "-phone")
        browser.close()
    for picture in sorted(PICTURES.glob("*.webp")):
        print(f"{picture.relative_to(ROOT)}: {picture.stat().st_size // 1024} kB")


if __name__ == "__main__":
    main()
