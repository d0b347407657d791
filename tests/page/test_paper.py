"""The QR code on paper, read by a general decoder (ZXing) from the drawing as it is written."""

from __future__ import annotations

import json
import re
import xml.etree.ElementTree as ET

import pytest
import zxingcpp
from PIL import Image, ImageDraw

from witnessmark.page.paper import paper_codes, paper_mark, qr_code, with_paper_mark

RUN = re.compile(r"M(\d+) (\d+)h(\d+)v1h-(\d+)z")
SCALE = 6


def drawn(svg: str) -> Image.Image:
    """The drawing as a camera sees it: dark boxes on white, six dots a module."""
    root = ET.fromstring(svg)
    width = int(root.attrib["viewBox"].split()[2])
    image = Image.new("L", (width * SCALE, width * SCALE), 255)
    pen = ImageDraw.Draw(image)
    path = root.find("{http://www.w3.org/2000/svg}path").attrib["d"]
    assert RUN.sub("", path) == ""
    for x, y, length, back in RUN.findall(path):
        assert length == back
        left, top = int(x) * SCALE, int(y) * SCALE
        pen.rectangle((left, top, left + int(length) * SCALE - 1, top + SCALE - 1), fill=0)
    return image


@pytest.mark.parametrize(
    "content",
    [
        "https://handbook.lockgate.example/procedures/inspection/?paper=0123456789ab",
        "http://10.0.0.7:8080/" + "a-long-way/" * 20 + "?paper=ffffffffffff",
        "x",
    ],
)
def test_a_general_decoder_reads_it(content):
    """The very content, with a quiet zone of four modules, from a soiled print too."""
    image = drawn(qr_code(content))
    (found,) = zxingcpp.read_barcodes(image)
    assert found.text == content
    assert "QRCode" in str(found.format).replace(" ", "")
    rim = image.crop((0, 0, image.width, 4 * SCALE))
    assert rim.getextrema() == (255, 255)
    blot = image.width // 8
    at = image.width // 2
    ImageDraw.Draw(image).rectangle((at, at, at + blot, at + blot), fill=0)
    assert [each.text for each in zxingcpp.read_barcodes(image)] == [content]


def test_the_mark_carries_address_and_revision():
    """Below the site's address, whether that ends in a slash or not; escaped; no styles inside."""
    for site in ("https://intranet.example/shop/book", "https://intranet.example/shop/book/"):
        mark = paper_mark(site, "procedures/a&b/", "0123456789ab")
        svg = re.search("<svg.*</svg>", mark).group()
        (found,) = zxingcpp.read_barcodes(drawn(svg))
        address = "https://intranet.example/shop/book/procedures/a&b/"
        assert found.text == f"{address}?paper=0123456789ab"
        assert f">{address.replace('&', '&amp;')}<" in mark
        assert "revision 0123456789ab" in mark
        assert "style" not in mark


def test_the_sheet_is_given_the_very_codes_of_the_pages():
    """By address, as they stand on the pages; a page without one is left out."""
    site = "https://intranet.example/book"
    marks = {url: paper_mark(site, url, "0123456789ab") for url in ("b/", "a/")}
    codes = json.loads(paper_codes({**marks, "c/": paper_mark("", "c/", "")}))
    assert list(codes) == ["a/", "b/"]
    for url, code in codes.items():
        assert code in marks[url]
        (found,) = zxingcpp.read_barcodes(drawn(code))
        assert found.text == f"{site}/{url}?paper=0123456789ab"


def test_without_an_address_there_is_no_mark():
    """A site that is made for no address can be found under none."""
    assert paper_mark("", "a/", "0" * 12) == ""
    assert with_paper_mark("<h1>A</h1><p>b</p>", paper_mark("", "a/", "")) == "<h1>A</h1><p>b</p>"
