"""Deviations of one comparison after the other: printed, counted, kept for the proof table."""
import csv
import math
import statistics


class Tally:
    """What has been compared so far. A limit that is passed is a failure, and so is a nan."""

    def __init__(self):
        self.rows = []
        self.passed = 0
        self.failed = 0

    def book(self, law, what, library, version, deviations, limit, unit="", median=None,
             worst_at="", note=""):
        """Books one comparison.

        law         id in tests/reference/laws.csv
        what        what was compared, in words
        deviations  one for each value compared; relative unless unit says otherwise
        limit       largest deviation allowed
        median      largest median allowed, or None
        worst_at    the state of the largest deviation, printed when it fails
        note        what explains the size of the deviations
        """
        deviations = list(deviations)
        bad = not deviations or any(math.isnan(d) for d in deviations)
        worst = math.nan if bad else max(deviations)
        typical = math.nan if bad else statistics.median(deviations)
        good = worst <= limit and (median is None or typical <= median)
        self.passed += good
        self.failed += not good
        shown = f" median limit {median:.3g}" if median is not None else ""
        unit = " " + unit if unit else ""
        print(f"{'PASS' if good else 'FAIL'} {what}: {library} {version}, {len(deviations)} values,"
              f" worst {worst:.3g}{unit}, typical {typical:.3g}{unit}, limit {limit:.3g}{unit}"
              f"{shown}{'; ' + note if note else ''}", flush=True)
        if not good and worst_at:
            print(f"     worst at {worst_at}", flush=True)
        self.rows.append([law, library, version, len(deviations), f"{worst:.4g}", f"{typical:.4g}",
                          f"{limit:.4g}", "live", unit.strip(), what])

    def write(self, path):
        with open(path, "w", encoding="utf-8", newline="") as out:
            table = csv.writer(out, lineterminator="\n")
            table.writerow(["law", "source", "version", "count", "worst", "typical", "limit",
                            "provenance", "unit", "what"])
            table.writerows(self.rows)


def relative(found, expected):
    """Relative deviation; the same number, 0 included, is 0."""
    return 0.0 if found == expected else abs(found - expected) / abs(expected)


def relatives(found, expected):
    return [relative(f, e) for f, e in zip(found, expected, strict=True)]
