"""Links against others: a QR reader on the printed page, and a cryptography library on locked links.

* The sheet is printed by Chromium, made into a raster of 150 dots an inch in grey, and read by zxing-cpp. What is read must
  be one address, the same as the link of that prescription, and `layfigure open` must open it. No module may be
  smaller than 0.4 mm, and the codes of a full sheet stay at version 13 or below.
* A locked link is opened by `cryptography` (Argon2id, ChaCha20-Poly1305) from what `crate/src/link/sealed.rs` says alone,
  and gives the bytes of the open link.
"""

import base64
import os
import re
import subprocess
import sys
import tempfile
from pathlib import Path

import numpy as np
import zxingcpp
from cryptography.exceptions import InvalidTag
from cryptography.hazmat.primitives.ciphers.aead import ChaCha20Poly1305
from cryptography.hazmat.primitives.kdf.argon2 import Argon2id

ROOT = Path(__file__).resolve().parents[2]
LAYFIGURE = os.environ.get("LAYFIGURE", str(ROOT / "target/release/layfigure"))
CHROMIUM = os.environ.get("CHROMIUM", "chromium")
HOME = "https://exercises.example/home-page.html"  # 40 characters
DOTS = 150
PAPERS = [("a4", "normal"), ("letter", "normal"), ("a4", "large")]

HEAD = """by: R. O., physiotherapist, 01632 960 123
patient: T. B., 58
start: 2026-11-30
weeks: 6
aim: go upstairs step over step
surgery: 2026-11-02, right meniscus repair
limit: right knee flexion 0-90 until 6 weeks after surgery
weight: right, as tolerated in brace
avoid: kneeling, impact
review: 2026-12-14
time: Mon-Fri morning 15 min, evening 20 min
"""
EIGHT = """heel slide, right: 2 x 10, hold 5 s, 2/day
straight leg raise, right: 3 x 8, 3/week, rest 60 s
  cue: Lock the knee before you lift.
  from week 3: 3 x 12
  when easy: straight leg raise with ankle weight 1 kg, 3 x 8
bridge: 3 x 10, hold 3 s, 3/week
  if not felt: Bring your heels closer.
calf stretch, both: 3 x 30 s, daily
cold pack, right knee: 10 min, after evening
sit to stand: 3 x 8, 3/week
step-up, right: 2 x 10, 3/week
  why: so you can manage the stairs
bent-knee opening, right: 2 x 10, daily
"""
MORE = """wall slide, right: 2 x 10, daily
chin tuck: 10 reps, 3/day
prone press-up: 10 reps, 2/day
"""
TEXTS = {
    "one exercise": "start: 2026-11-30\nreview: 2026-12-07\nbridge: 3 x 10, daily\n",
    "the example and eight": HEAD + EIGHT,
    "eleven and other scripts": HEAD.replace("T. B.", "דנה כהן") + EIGHT + MORE + "bad day: Ganz langsam, façade.\n",
}

passed = failed = 0


def check(what, good, told=""):
    global passed, failed
    passed, failed = passed + bool(good), failed + (not good)
    print(("good  " if good else "BAD   ") + what + (f": {told}" if told and not good else ""))


def run(*words, text=None):
    done = subprocess.run([LAYFIGURE, *words], input=text, capture_output=True, text=True, check=True)
    return done.stdout


def rasters(html, folder):
    """The pages as printed, in grey."""
    page, paper = folder / "page.html", folder / "page.pdf"
    page.write_text(html, encoding="utf-8")
    plain = ["--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--no-pdf-header-footer"]
    plain += ["--disable-background-networking", "--disable-component-update", "--disable-sync", "--disable-quic"]
    profile = f"--user-data-dir={folder / 'profile'}"
    subprocess.run(
        [CHROMIUM, *plain, profile, f"--print-to-pdf={paper}", page.as_uri()],
        check=True, capture_output=True, timeout=120,
    )
    for old in folder.glob("raster*"):
        old.unlink()
    subprocess.run(["pdftoppm", "-gray", "-r", str(DOTS), str(paper), str(folder / "raster")], check=True)
    for file in sorted(folder.glob("raster*.pgm")):
        data = file.read_bytes()
        wide, high = map(int, re.match(rb"P5\s+(\d+)\s+(\d+)\s+255\s", data).groups())
        yield np.frombuffer(data[-wide * high :], np.uint8).reshape(high, wide)


def printed(folder):
    for name, text in TEXTS.items():
        link = run("link", "-", "--today", "2026-12-01", text=text).strip()
        opened = run("open", link, "--today", "2026-12-01")
        for paper, size in PAPERS:
            html = run("handout", "-", "--paper", paper, "--print", size, "--home", HOME, "--today", "2026-12-01", text=text)
            side, box = re.search(r'viewBox="0 0 (\d+) \1" width="([\d.]+)mm"', html).groups()
            module, version = float(box) / int(side), (int(side) - 8 - 17) // 4
            where = f"{name}, {paper}, {size} print"
            check(f"{where}: modules of {module:.2f} mm", 0.4 <= module)
            check(f"{where}: version {version}", version <= 13)
            codes = [[code.text for code in zxingcpp.read_barcodes(page)] for page in rasters(html, folder)]
            read = sum(codes, [])
            check(f"{where}: one code is read at {DOTS} dpi", len(read) == 1, codes)
            for address in read:
                check(f"{where}: it begins with the address", address.startswith(HOME + "#N"), address)
                check(f"{where}: it opens as the link does", run("open", address, "--today", "2026-12-01") == opened)
            # With more than eight exercises the foot of the first page, and the code in it, is on the next.
            if size == "normal" and not name.startswith("eleven"):
                check(f"{where}: on the first page", bool(codes and codes[0]), codes)


def bytes_of(fragment):
    body = fragment.strip()[2:]
    return base64.urlsafe_b64decode(body + "=" * (-len(body) % 4))


def locked(folder):
    words = folder / "words.txt"
    for passphrase in ["amber river stone olive tunnel kite", "Straße ÄPFEL"]:
        words.write_text(passphrase + "\n", encoding="utf-8")
        text = TEXTS["the example and eight"]
        packed = bytes_of(run("link", "-", "--today", "2026-12-01", text=text))
        seals = [run("link", "-", "--today", "2026-12-01", "--passphrase", str(words), text=text).strip() for _ in "ab"]
        check(f"{passphrase}: no two locked links are alike", seals[0] != seals[1])
        for link in seals:
            check(f"{passphrase}: the mark", link.startswith("#S"), link[:4])
            whole = bytes_of(link)
            salt, sealed = whole[:16], whole[16:]

            def opened(words):
                kdf = Argon2id(salt=salt, length=44, iterations=3, lanes=1, memory_cost=64 * 1024)
                secret = kdf.derive(words.encode())
                return ChaCha20Poly1305(secret[:32]).decrypt(secret[32:], sealed, None)

            check(f"{passphrase}: another library opens it", opened(passphrase.lower()) == packed)
            try:
                opened(passphrase.lower() + "s")
                check(f"{passphrase}: other words don't", False)
            except InvalidTag:
                check(f"{passphrase}: other words don't", True)
            again = run("open", link, "--passphrase", str(words), "--today", "2026-12-01")
            check(f"{passphrase}: we open it", again == run("open", "#L" + base64.urlsafe_b64encode(packed).decode().rstrip("="), "--today", "2026-12-01"))


with tempfile.TemporaryDirectory() as name:
    printed(Path(name))
    locked(Path(name))
print(f"{passed} passed, {failed} failed")
sys.exit(1 if failed or not passed else 0)
