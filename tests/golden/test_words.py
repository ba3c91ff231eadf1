"""How the program talks: habits that no text for users may have, and words that were wrong and must stay out.

words_allowed.txt holds the few exceptions, each with its reason. To see what is left in some files:

    python3 tests/golden/test_words.py --program build/src/damperwise
"""

import hashlib
import re
import sys
from pathlib import Path

import harness
import user_text
from harness import ROOT, need

ALLOWED = Path(__file__).with_name("words_allowed.txt")
# How many findings a failure shows.
SHOWN = 400
EXCEPTIONS_MAX = 16

# name, pattern (white space is one blank), what to write instead
HABITS = [
    ("is no", r"(?<!\bthere )\b(?:is|are|was|were) no\b", "'is not', or 'there is no'"),
    ("stands", r"\b(?:stands?|stood)\b", "things are, give, show, or lie"),
    ("comes to rest", r"\b(?:comes?|came|coming) to rest\b", "'at equilibrium', 'settles', 'stops'"),
    ("hands out", r"\bhand(?:s|ed|ing)? out\b", "'gives'"),
    ("more damper", r"\b(?:more|less) damper\b", "'open the damper further', 'close the damper further'"),
    ("safe", r"\b(?:safe|safer|safest|safely|unsafe)\b", "an estimate is never such a judgement"),
]

# What was wrong in fact, or read as something else.
WRONG = [
    ("oxygen pressure of a reducing kiln", r"-8 to -12\b"),
    ("volts of a reducing kiln", r"\b0\.6 to 0\.8 ?V\b"),
    ("the probe in reduction", r"\bhardly moves?\b"),
    ("loss of a damper", r"\bsome ten times\b|\bmany hundred times\b"),
    ("celadon from a neutral flame", r"\bneutral flame for (?:a )?(?:green )?celadon\b"),
    ("colour of one per cent of iron in air", r"\bhoney[- ]brown\b"),
    ("gas is not all burnt in reduction", r"\bgas burnt, kg\b"),
    ("colour of a chamber at 760 degC", r"\bbright red\b"),
    ("extinguishers do not stop flowing gas", r"\bfits gas\b|\bextinguisher for gas\b|\bgas and electric fires\b"),
    ("which doors", r"\bkiln open\b"),
]

# Translated phrases, and what they mean.
TRANSLATED = [
    (r"\bevery damper open so far\b", "set every damper to this opening"),
    (r"\bpositive inwards\b", "positive when it pulls air in"),
    (r"\b(?:above|below) nought\b", "positive, negative"),
    (r"\bin step with\b", "proportional to"),
    (r"\bis an error and no guess\b", "is refused; nothing is guessed"),
    (r"\bspread by an unmixedness\b", "spread to allow for uneven mixing"),
    (r"\bworth more than all defaults\b", "better than any default"),
    (r"\bno switch, no\b", "do not touch switches"),
    (r"\bminutes and hours in that air\b", "after that long in it"),
    (r"\bwhere the description ends\b", "faults are what you did not describe"),
    (r"\bkeeps to itself\b", "shows levels too low to set off an alarm"),
    (r"\bis no excuse\b", "purge even if it still glows"),
    (r"\bpeople who are not told\b", "people nobody warned"),
    (r"\bgoverns it more\b", "affects it more"),
    (r"\bbrings it down lower\b", "it bends at a lower temperature"),
    (r"\bhas no number of it\b", "not available for this kiln"),
    (r"\bnobody knows that but you\b", "only you can check"),
    (r"\bno flow at all balances\b", "it may also stay still"),
    (r"\bno measurement\b", "not a measurement"),
    (r"\bpacket a day\b", "comparable with a pack-a-day smoker"),
    (r"\bhaemoglobin taken\b", "carboxyhaemoglobin (COHb)"),
    (r"\bneed not sound\b", "may stay silent at this level"),
    (r"\bthinned by\b", "not averaged with unexposed hours"),
    (r"\bso the one that gives the most\b", "worst case assumed"),
    (r"\bmeans anything for\b", "beyond what this model can represent"),
    (r"\bin, out and stored close to\b", "CO balance error"),
    (r"\bnot given or never sure\b", "uncertain input"),
    (r"\bof one boundary the first\b", "where several calibrations exist, the first is used"),
    (r"\bburner hole's neighbour\b", "a second hole beside the burner"),
]

# Persons and organisations keep code under account names; the register names the published work instead. The
# names themselves must not be here either, so they are known by the start of their SHA-256, in small letters.
HOSTS = re.compile(r"\b(?:github|gitlab|bitbucket|sourceforge|codeberg)\b", re.I)
ACCOUNTS = {
    "2634cbb8e6d3", "3f3d8b408dda", "53a7480e0436", "8f32e4a36a84",
    "b08737220484", "f4765fe8e1e4", "f694add9aabf",
}
REGISTERS = ["config", "tests/reference", "src", "examples"]


def digest(word):
    return hashlib.sha256(word.lower().encode()).hexdigest()[:12]


def allowed():
    """[(phrase, reason)] of the exceptions."""
    rows = []
    for line in ALLOWED.read_text(encoding="utf-8").splitlines():
        if line.strip() and not line.startswith("#"):
            phrase, _, reason = line.partition("|")
            rows.append((phrase.strip(), reason.strip()))
    return rows


def excuses(text, exceptions):
    """[(start, end, phrase)] of the exceptions that a text holds."""
    found = []
    for phrase, _ in exceptions:
        pattern = r"\b" + re.escape(phrase) + r"\b"
        found += [(m.start(), m.end(), phrase) for m in re.finditer(pattern, text, re.I)]
    return found


def search(texts, rules, exceptions=(), used=None):
    """Each finding as a line: place, what is wrong, the words around it, what to write instead."""
    lines = []
    for text in texts:
        excused = excuses(text.text, exceptions)
        for name, pattern, instead in rules:
            for match in re.finditer(pattern, text.text, re.I):
                by = [phrase for start, end, phrase in excused if start <= match.start() and match.end() <= end]
                if by:
                    if used is not None:
                        used.update(by)
                    continue
                around = text.text[max(0, match.start() - 40):match.end() + 40]
                lines.append(f"{text.where(match.start())}: {name}: ...{around}... ({instead})")
    return lines


def none_of(rules, exceptions=(), used=None):
    lines = search(user_text.everything(), rules, exceptions, used)
    more = f"\n  and {len(lines) - SHOWN} more" if len(lines) > SHOWN else ""
    need(not lines, f"{len(lines)} places:\n  " + "\n  ".join(lines[:SHOWN]) + more)


def test_banned_habits(_h):
    exceptions, used = allowed(), set()
    need(len(exceptions) <= EXCEPTIONS_MAX, f"{len(exceptions)} exceptions, {EXCEPTIONS_MAX} at most")
    for phrase, reason in exceptions:
        need(len(reason.split()) >= 3, f"the exception '{phrase}' has no reason")
    none_of(HABITS, exceptions, used)
    unused = [phrase for phrase, _ in exceptions if phrase not in used]
    need(not unused, f"exceptions that nothing needs: {unused}")


def test_what_was_wrong_stays_out(_h):
    none_of([(f"wrong, {name}", pattern, "see the term in config/terms.yaml") for name, pattern in WRONG])


def test_translated_phrases_stay_out(_h):
    none_of([("translated", pattern, instead) for pattern, instead in TRANSLATED])


def test_no_account_names(_h):
    bad = []
    for folder in REGISTERS:
        for path in sorted((ROOT / folder).rglob("*")):
            if path.suffix not in (".yaml", ".csv", ".c", ".h", ".md", ".sh", ".py"):
                continue
            for number, line in user_text.lines_of(path):
                words = re.findall(r"[A-Za-z0-9][A-Za-z0-9_-]*", line)
                if HOSTS.search(line) or any(digest(word) in ACCOUNTS for word in words):
                    bad.append(f"{user_text.name_of(path)}:{number}")
    need(not bad, f"names of accounts or their hosts: {bad}")


def test_terms(h):
    """Words potters ask for have an entry; nobody is sent to another meaning."""
    def text_of(*words):
        return " ".join(h.run("why", *words).out.split())

    for term in ("back pressure", "bag wall", "candling", "bung", "crossdraft", "downdraft", "updraft",
                 "carboxyhaemoglobin", "COHb", "celadon", "copper red", "tenmoku", "carbon trap", "body reduction"):
        text_of(*term.split())
    need(not text_of("body", "reduction").startswith("reduction "), "body reduction is taken for any reduction")
    first = text_of("stall").split(". ")[0]
    need("climb" in first and "down" not in first, f"'stall' begins with '{first}'")


def test_the_search_finds(_h):
    """Each rule has to be able to fail, and only on what it means."""
    def hits(text, rules=None, exceptions=()):
        return len(search([user_text.Text("x", [(1, text)])], rules or HABITS, exceptions))

    for bad in ("An estimate is no measurement.", "These ARE\n no limits", "It stands here.", "gas come to rest",
                "hands out", "Give it more damper", "a safe kiln"):
        need(hits(bad) == 1, f"'{bad}' is not found")
    for good in ("There is no stack.", "there are  no burners", "the standard", "understand", "a handout",
                 "more dampers", "safety"):
        need(hits(good) == 0, f"'{good}' is found")
    need(hits("is no longer", exceptions=[("is no longer", "")]) == 0, "an exception is not made")
    need(hits("is no longer; is no", exceptions=[("is no longer", "")]) == 1, "an exception excuses too much")
    for pattern, _ in TRANSLATED:
        re.compile(pattern)
    need(HOSTS.search("read in GitHub some/thing"), "a host is not found")
    parts = user_text.literals('f("one " /* "not" */\n  "two", "thr\\"ee"); // "no"\n#include "x.h"\nchar c = \'"\';')
    need([" ".join(t for _, t in p) for p in parts] == ["one  two", 'thr"ee'], f"literals are {parts}")
    need(parts[0][1][0] == 2, "the line of a literal is wrong")


if __name__ == "__main__":
    harness.main(__doc__, harness.tests_of(sys.modules[__name__]))
