"""Nothing of the program writes or reads a number by the C library's locale.

Looks at every source file of src/: the functions that read numbers or letters by the locale are called nowhere but in
base/number.c, and no printf of the C library is given a floating-point number but in base/format.c.
"""

import re
import sys
from pathlib import Path

SRC = Path(__file__).resolve().parent.parent.parent / "src"
ALLOWED = {"base/format.c": {"snprintf"}, "base/number.c": {"strtod", "localeconv"}}
# What follows the locale whatever it is given.
BY_LOCALE = re.compile(
    r"\b(strtod|strtof|strtold|atof|v?f?scanf|v?sscanf|setlocale|newlocale|uselocale|localeconv|strfmon|strcoll|"
    r"strxfrm|strcasecmp|strncasecmp|isalpha|isalnum|isupper|islower|isspace|ispunct|isprint|isgraph|iscntrl|"
    r"isdigit|toupper|tolower|vs?n?printf|vfprintf)\s*\(")
PRINTF = re.compile(r"\b(f|s|sn|d|as)?printf\s*\(")
REAL = re.compile(r"%[-+ #0'\d.*]*[lL]?[aAeEfFgG]")
INTEGER_GROUPED = re.compile(r"%[-+ #0\d.*]*'")


def without_comments(text):
    """Comments become blanks of the same number of lines; texts in quotes stay."""
    token = re.compile(r'"(?:\\.|[^"\\])*"|\'(?:\\.|[^\'\\])*\'|/\*.*?\*/|//[^\n]*', re.S)
    return token.sub(lambda m: m[0] if m[0][0] in "\"'" else "\n" * m[0].count("\n") or " ", text)


def call_at(text, start):
    """The text of a call from its opening bracket to the closing one."""
    depth, i = 0, start
    while i < len(text):
        if text[i] == '"':
            i += re.compile(r'"(?:\\.|[^"\\])*"').match(text, i).end() - i
            continue
        depth += {"(": 1, ")": -1}.get(text[i], 0)
        i += 1
        if depth == 0:
            break
    return text[start:i]


def faults(name, text):
    text = without_comments(text)
    allowed = ALLOWED.get(name, set())
    found = []
    for match in BY_LOCALE.finditer(text):
        if match[1] not in allowed:
            found.append((match.start(), f"{match[1]} follows the locale"))
    for match in PRINTF.finditer(text):
        if match[0].rstrip("( ") in allowed:
            continue
        call = call_at(text, match.end() - 1)
        words = "".join(re.findall(r'"((?:\\.|[^"\\])*)"', call)).replace("%%", "")
        if REAL.search(words) or INTEGER_GROUPED.search(words):
            found.append((match.start(), "a printf of the C library writes a number by the locale: use dw_print"))
        elif not words and ", " in call and not re.match(r'\([^"]*"', call):
            found.append((match.start(), "a printf of the C library with a format that cannot be seen here"))
    return [f"src/{name}:{text.count(chr(10), 0, at) + 1}: {what}" for at, what in found]


def self_check():
    """Each kind of slip is seen, and what only looks like one is not."""
    bad = ['x = strtod(t, NULL);', 'snprintf(a, 9, "%.3f", x);', 'fprintf(stderr, "a"\n "%g\\n", x);',
           'printf("%-8.2e", x);', 'y = tolower(c);', 'vsnprintf(a, 9, f, v);', 'snprintf(a, 9, "%\'d", 3);',
           'sscanf(t, "%d", &i);']
    good = ['/* strtod() */ dw_print(a, 9, "%.3f", x);', 'snprintf(a, 9, "%d %%e", 3);', 'f("strtod");'.replace("(", "= "),
            'fprintf(stderr, "%s", text);', '// tolower(c)\n']
    for text in bad:
        if not faults("x.c", text):
            return f"does not see: {text}"
    for text in good:
        if faults("x.c", text):
            return f"takes for a slip: {text} {faults('x.c', text)}"
    return None


def main():
    slip = self_check()
    if slip:
        sys.exit(slip)
    files = [path for path in sorted(SRC.rglob("*")) if path.suffix in (".c", ".h")]
    if len(files) < 150:
        sys.exit(f"only {len(files)} files below {SRC}")
    found = [line for path in files for line in faults(path.relative_to(SRC).as_posix(), path.read_text())]
    print("\n".join(found) or f"{len(files)} files, none writes or reads a number by the locale")
    sys.exit(1 if found else 0)


main()
