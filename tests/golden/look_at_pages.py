"""Looks at pages with Chromium, where there is one: nothing goes over the side of a telephone, a tablet or
a wide screen. Not a part of the suite:  python3 tests/golden/look_at_pages.py --program build/src/damperwise
"""

import re
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

import harness
from harness import EXAMPLES, JUNIPER, ROOT, Skip, need

MARLPIT = ROOT / "examples" / "room-marlpit-cellar.yaml"
WIDTHS = (320, 390, 600, 768, 1024, 1200, 1600)

# Every width in a frame of its own; what goes over the side is written into the title.
FRAMES = """<!doctype html><title></title><body>{frames}<script>
addEventListener('load', () => {{
  const out = [];
  for (const frame of document.querySelectorAll('iframe')) {{
    const page = frame.contentDocument, width = page.documentElement.clientWidth;
    const over = page.documentElement.scrollWidth - width;
    if (over > 0) out.push(`page ${{frame.width}}: ${{over}} px`);
    for (const box of page.querySelectorAll('.wide')) {{
      const cut = box.scrollWidth - box.clientWidth;
      if (cut > 0 && !(box.className.includes('scrolls') && width > 1184)) {{
        out.push(`${{box.className}} ${{frame.width}}: ${{cut}} px`);
      }}
    }}
    for (const cell of page.querySelectorAll('.tone-bad')) {{
      const place = cell.getBoundingClientRect();
      if (place.left < 0 || place.right > width) out.push(`hidden ${{frame.width}}: ${{cell.textContent}}`);
    }}
  }}
  document.title = out.join('; ') || 'all fits';
}});
</script>"""


def look(browser, folder, name):
    frames = "".join(f'<iframe src="{name}.html" width="{w}" height="900" style="border:0"></iframe>'
                     for w in WIDTHS)
    (folder / f"frames-{name}.html").write_text(FRAMES.format(frames=frames), encoding="utf-8")
    with tempfile.TemporaryDirectory() as profile:
        done = subprocess.run(
            [browser, "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
             "--disable-background-networking", "--disable-component-update", "--disable-sync",
             "--allow-file-access-from-files", f"--user-data-dir={profile}", "--dump-dom",
             f"file://{folder}/frames-{name}.html"],
            stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, check=True, timeout=120)
    return re.search(r"<title>(.*?)</title>", done.stdout.decode()).group(1)


def test_nothing_goes_over_the_side(h):
    browser = shutil.which("chromium")
    if browser is None:
        raise Skip("there is no chromium")
    folder = Path(h.folder("pages"))
    pages = {}
    for kiln in EXAMPLES:
        for command in ("estimate", "check", "oxides", "ladder"):
            pages[f"{command}-{kiln.stem}"] = [command, kiln, "--temperature", "1200 degC"]
        pages[f"sweep-{kiln.stem}"] = ["sweep", kiln, "--vary", "damper=10..100%:30%", "--vary",
                                       "temperature=900 degC,1250 degC"]
    pages["room"] = ["room", MARLPIT]
    pages["room-sweep"] = ["room", MARLPIT, "--vary", "damper=10..60%:10%"]
    pages["exposure"] = ["exposure", "--ppm", "60", "--hours", "4", "--units", "us"]
    pages["oxides-at"] = ["oxides", "--at", "1250 degC..750 degC:100 degC", "--co-co2", "0.05"]
    pages["oxides-sweep"] = ["oxides", JUNIPER, "--temperature", "1200 degC", "--vary",
                             "damper=10..100%:30%", "--glaze", "tenmoku"]
    pages["why"] = ["why"]
    pages["working"] = ["estimate", JUNIPER, "--working"]
    found = []
    for name, args in pages.items():
        h.run(*args, "--format", "html", "--output", folder / f"{name}.html")
        seen = look(browser, folder, name)
        if seen != "all fits":
            found.append(f"{name}: {seen}")
    need(not found, "\n" + "\n".join(found))


if __name__ == "__main__":
    harness.main(__doc__, harness.tests_of(sys.modules[__name__]))
