"""One page that says what the numbers of this program were checked against, and how well they did.

    proof.py FOLDER

FOLDER holds the deviations of every check value, as the tests write them:

    proof_reference.csv, proof_cea.csv, proof_units.csv
        from test_reference, test_equilibrium_cea and test_units_udunits, --csv; must be there
    live.csv, second_opinion.csv
        comparisons with other programs; the page says so when they are missing

The page goes to standard output and FOLDER/proof.txt, and as HTML to FOLDER/proof.html. laws.csv
beside this file says which law each number belongs to. The exit code is 1 when something does not
hold: a number over its tolerance, a number or a source file that no law names, a law that names
what is not there, fewer outside values than are asked for.
"""
import os
import sys

from proof_data import Proof
from proof_page import html_page, text_page


def main(arguments):
    if len(arguments) != 1:
        raise SystemExit("usage: proof.py FOLDER")
    proof = Proof(arguments[0])
    text = text_page(proof)
    for name, page in (("proof.txt", text), ("proof.html", html_page(proof))):
        with open(os.path.join(arguments[0], name), "w", encoding="utf-8") as file:
            file.write(page)
    sys.stdout.write(text)
    for fault in proof.faults:
        sys.stdout.write("failed: %s\n" % fault)
    return 1 if proof.faults else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
