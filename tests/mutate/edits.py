"""Simple edits of C source: where one can be made, and the text after it.

A source file is cut into tokens; comments, strings, preprocessor lines other than the numbers of a
#define, type definitions and declarations are left alone. What is found is a list of Edit.

Some edits are not made, since no test of values can see them, and other checks take care of them:

    '<' to '<=' in the head of a counting loop, for (int i = 0; i < n; i++), with or without more
    conditions behind i < n
        reads one element beyond: the run under sanitizers (tests/run.sh --sanitize), the fuzz targets
        and valgrind see that, a test of values only when what lies there happens to matter. Every
        other edit of such a head is made.
    the size of an array that is declared, the size that malloc, calloc or realloc is asked for, and
    the quotient sizeof a / sizeof a[0]
        a smaller one writes or reads beyond, which is for the sanitizers too; a larger one is no fault.
    deleting a call of free() or of a function named ..._free or ..._destroy
        leaks: LeakSanitizer and the counting of test_alloc_failure.c see that.

The expression of a DW_LAW (base/law.h) is edited like one in a function; what is shown of it changes with it.
"""

import re
from dataclasses import dataclass

TOKEN = re.compile(r"""
    (?P<space>\s+)
  | (?P<comment>/\*.*?\*/|//[^\n]*)
  | (?P<string>"(?:\\.|[^"\\\n])*")
  | (?P<char>'(?:\\.|[^'\\\n])+')
  | (?P<number>(?:\d+\.\d*|\.\d+|\d+)(?:[eE][-+]?\d+)?[uUlLfF]*|0[xX][0-9a-fA-F]+[uUlL]*)
  | (?P<name>[A-Za-z_]\w*)
  | (?P<op><<=|>>=|\.\.\.|->|\+\+|--|<<|>>|<=|>=|==|!=|&&|\|\||[-+*/%&|^]=|[-+*/%&|^~!<>=?:;,.(){}\[\]])
""", re.VERBOSE | re.DOTALL)
DIRECTIVE = re.compile(r"[ \t]*#(?:[^\n\\]|\\.|\\\n)*", re.DOTALL)
DEFINE = re.compile(r"[ \t]*#[ \t]*define[ \t]+\w+(?:\([^)]*\))?")
FLOAT = re.compile(r"(?:\d+\.\d*|\.\d+|\d+(?=[eE]))(?:[eE][-+]?\d+)?$")

TYPE_WORDS = frozenset("""const static double float int long short unsigned signed char bool void
    struct enum union size_t FILE va_list extern inline typedef volatile register""".split())
CONTROL = frozenset("if for while switch".split())
NOT_A_VALUE = frozenset("return case else do sizeof goto".split())
ALLOCATES = frozenset("malloc calloc realloc".split())

SWAP = {"+": "-", "-": "+", "*": "/", "/": "*", "+=": "-=", "-=": "+=", "*=": "/=", "/=": "*=",
        "<": "<=", "<=": "<", ">": ">=", ">=": ">", "==": "!=", "!=": "==", "&&": "||", "||": "&&",
        "fmin": "fmax", "fmax": "fmin"}
ENDS_PRODUCT = frozenset("+ - * / % < > <= >= == != && || ? : , ; ) ] } & | ^ << >>".split())
ENDS_SUM = ENDS_PRODUCT - frozenset("* / %".split())


@dataclass(frozen=True)
class Edit:
    start: int
    end: int
    new: str
    line: int
    text: str    # in words: "'+' to '-'"

    def apply(self, source):
        return source[:self.start] + self.new + source[self.end:]


@dataclass
class Token:
    kind: str
    text: str
    start: int
    end: int


def tokens_of(source):
    """Tokens that matter, and the bodies of #define lines."""
    tokens, defines, at = [], [], 0
    line_start = True
    while at < len(source):
        if line_start:
            directive = DIRECTIVE.match(source, at)
            if directive:
                define = DEFINE.match(source, at)
                if define:
                    defines.append((define.end(), directive.end()))
                at = directive.end()
                continue
        match = TOKEN.match(source, at)
        if not match:
            raise ValueError(f"cannot read C at {source[at:at + 20]!r}")
        kind = match.lastgroup
        if kind not in ("space", "comment"):
            tokens.append(Token(kind, match.group(), match.start(), match.end()))
        if kind == "space":
            line_start = "\n" in match.group()
        elif kind != "comment":
            line_start = False
        at = match.end()
    return tokens, defines


def is_value_end(token):
    if token.kind in ("number", "string", "char"):
        return True
    if token.kind == "name":
        return token.text not in NOT_A_VALUE and token.text not in TYPE_WORDS
    return token.text in (")", "]")


def matching(tokens):
    """Index of the partner of each bracket."""
    partner, stack = {}, []
    for i, token in enumerate(tokens):
        if token.kind != "op":
            continue
        if token.text in "([{":
            stack.append(i)
        elif token.text in ")]}":
            other = stack.pop()
            partner[i], partner[other] = other, i
    return partner


class Finder:
    def __init__(self, source):
        self.source = source
        self.tokens, self.defines = tokens_of(source)
        self.partner = matching(self.tokens)
        self.edits = []
        self.left_alone = self.sizes() | self.quotients()
        self.counting = self.counting_loops()

    def line_of(self, position):
        return self.source.count("\n", 0, position) + 1

    def add(self, start, end, new, text):
        # Lines keep their numbers.
        lost = self.source[start:end].count("\n") - new.count("\n")
        self.edits.append(Edit(start, end, new + "\n" * max(lost, 0), self.line_of(start), text))

    def sizes(self):
        """Tokens of the sizes of declared arrays and of allocations."""
        found = set()
        for i, token in enumerate(self.tokens):
            if i < 2 or token.text not in ("[", "(") or self.tokens[i - 1].kind != "name":
                continue
            before = self.tokens[i - 2]
            declares = token.text == "[" and before.kind == "name" and \
                before.text not in NOT_A_VALUE
            if declares or token.text == "(" and self.tokens[i - 1].text in ALLOCATES:
                found.update(range(i + 1, self.partner[i]))
        return found

    def quotients(self):
        """The operators of sizeof a / sizeof a[0]."""
        found = set()
        for i, token in enumerate(self.tokens):
            if token.text == "/" and self.tokens[i + 1].text == "sizeof":
                at = i - 1
                while self.tokens[at].kind == "name" and self.tokens[at].text != "sizeof" or \
                        self.tokens[at].text in ("->", "."):
                    at -= 1
                if self.tokens[at].text == "sizeof":
                    found.add(i)
        return found

    def counting_loops(self):
        """The '<' of heads such as for (int i = 0; i < n; i++)."""
        found = set()
        for i, token in enumerate(self.tokens):
            if token.text != "for":
                continue
            end, at = self.partner[i + 1], i + 2
            parts, part = [], []
            while at <= end:
                if self.tokens[at].text == ";" or at == end:
                    parts.append(part)
                    part = []
                else:
                    part.append(at)
                at += 1
            first, test, step = ([self.tokens[k].text for k in p] for p in parts)
            if len(first) > 2 and first[0] in TYPE_WORDS and first[2] == "=" and \
                    test[:2] == [first[1], "<"] and \
                    step in ([first[1], "++"], ["++", first[1]]):
                found.add(parts[1][1])
        return found

    def spaced(self, i):
        """True for an operator with blanks on both sides: binary, and no pointer of a declaration."""
        token = self.tokens[i]
        return self.source[token.start - 1].isspace() and self.source[token.end].isspace()

    def operand_end(self, i, ends):
        """End of the right operand of the operator at i."""
        at = i + 1
        while at < len(self.tokens):
            token = self.tokens[at]
            if token.kind == "op" and token.text in "([{":
                at = self.partner[at] + 1
                continue
            if token.kind == "op" and token.text in ends and at > i + 1:
                break
            at += 1
        return self.tokens[at - 1].end

    def short(self, start, end):
        text = " ".join(self.source[start:end].split())
        return text if len(text) <= 60 else text[:57] + "..."

    def number(self, start, end):
        text = self.source[start:end]
        if not FLOAT.match(text) or float(text) == 0.0:
            return
        new = f"{float(text) * 1.01:.12g}"
        if not FLOAT.match(new):
            new += ".0"
        self.add(start, end, new, f"{text} to {new}")

    def operator(self, i, law=False):
        token, before = self.tokens[i], self.tokens[i - 1]
        text = token.text
        binary = is_value_end(before)
        if i in self.left_alone or i in self.counting:
            return
        if text in "+-*/" and binary and (law or self.spaced(i)):
            self.add(token.start, token.end, SWAP[text], f"'{text}' to '{SWAP[text]}'")
            end = self.operand_end(i, ENDS_SUM if text in "+-" else ENDS_PRODUCT)
            self.add(token.start, end, "", f"drop '{self.short(token.start, end)}'")
        elif text == "-" and not binary:
            self.add(token.start, token.end, "", "drop unary '-'")
        elif text == "!":
            self.add(token.start, token.end, "", "drop '!'")
        elif text in ("<", "<=", ">", ">=", "==", "!=", "&&", "||", "+=", "-=", "*=", "/="):
            self.add(token.start, token.end, SWAP[text], f"'{text}' to '{SWAP[text]}'")

    def statement(self, i):
        """Deletes the statement that starts at token i when it is no declaration."""
        token = self.tokens[i]
        if token.kind == "name" and token.text in ("break", "continue"):
            pass
        elif token.kind == "name":
            following = self.tokens[i + 1]
            if token.text in TYPE_WORDS | CONTROL | NOT_A_VALUE | {"default"}:
                return
            if following.kind == "name" or following.text == ":":
                return
            if following.text == "*" and not self.spaced(i + 1):
                return
            if following.text == "(" and (token.text == "free" or
                                          token.text.endswith(("_free", "_destroy"))):
                return
        elif token.text not in ("(", "*", "++", "--"):
            return
        at = i
        while self.tokens[at].text != ";":
            at = self.partner[at] + 1 if self.tokens[at].text in ("(", "[", "{") else at + 1
        end = self.tokens[at].start
        self.add(token.start, end, "", f"delete '{self.short(token.start, end)}'")

    def body(self, first, last, returns_status):
        """Edits between the braces of a function."""
        tokens = self.tokens
        if returns_status:
            at = tokens[first].end
            self.add(at, at, " return DW_OK;", "return DW_OK at once")
        blocks = [first]          # open braces that hold statements
        begins = True             # a statement begins at this token
        depth = 0
        for i in range(first + 1, last):
            token, before = tokens[i], tokens[i - 1]
            if begins and depth == 0:
                self.statement(i)
            begins = False
            if token.kind == "number":
                self.number(token.start, token.end)
            elif token.kind == "name":
                if token.text in ("fmin", "fmax"):
                    self.add(token.start, token.end, SWAP[token.text],
                             f"{token.text} to {SWAP[token.text]}")
                elif token.text == "if":
                    opening, closing = tokens[i + 1], tokens[self.partner[i + 1]]
                    self.add(opening.start, closing.end,
                             "(!" + self.source[opening.start:closing.end] + ")", "negate if")
                elif token.text in ("else", "do"):
                    begins = True
            elif token.kind == "op":
                if token.text == "(" or token.text == "[":
                    depth += 1
                elif token.text == ")" or token.text == "]":
                    depth -= 1
                    head = tokens[self.partner[i] - 1]
                    begins = token.text == ")" and head.kind == "name" and head.text in CONTROL
                elif token.text == "{":
                    heads = before.kind == "op" and before.text in ";{}" and \
                        self.partner.get(i - 1, first) in blocks + [first] or \
                        before.text in ("else", "do", ":", ";")
                    if before.text == ")":
                        head = tokens[self.partner[i - 1] - 1]
                        heads = head.kind == "name" and head.text in CONTROL
                    if before.text == "{":
                        heads = (i - 1) in blocks
                    if heads:
                        blocks.append(i)
                        begins = True
                elif token.text == "}":
                    begins = self.partner[i] in blocks
                elif token.text == ";":
                    begins = True
                elif token.text == ":":
                    begins = self.is_label(i)
                else:
                    self.operator(i)

    def law(self, first, last):
        """Edits of the expression of a law, the arguments after the sixth between these brackets."""
        commas = [i for i in range(first + 1, last)
                  if self.tokens[i].text == "," and self.depth_in(first, i) == 0]
        for i in range(commas[5] + 1, last):
            token = self.tokens[i]
            if token.kind == "number":
                self.number(token.start, token.end)
            elif token.text in ("fmin", "fmax"):
                self.add(token.start, token.end, SWAP[token.text],
                         f"{token.text} to {SWAP[token.text]}")
            elif token.kind == "op" and token.text in "+-*/":
                self.operator(i, law=True)

    def depth_in(self, first, at):
        """How many brackets opened after the first are open at a token."""
        depth = 0
        for token in self.tokens[first + 1:at]:
            if token.kind == "op" and token.text in "([{":
                depth += 1
            elif token.kind == "op" and token.text in ")]}":
                depth -= 1
        return depth

    def is_label(self, i):
        """True for the colon of a case or default."""
        at = i - 1
        while at >= 0 and self.tokens[at].text not in (";", "{", "}", "?", ":"):
            if self.tokens[at].text in ("case", "default"):
                return True
            at -= 1
        return False

    def find(self):
        tokens = self.tokens
        for start, end in self.defines:
            for match in TOKEN.finditer(self.source, start, end):
                if match.lastgroup == "number":
                    self.number(match.start(), match.end())
        i, outer = 0, 0           # outer: where the present outermost item begins
        while i < len(tokens):
            token = tokens[i]
            if token.text == ";" and token.kind == "op":
                outer = i + 1
            elif token.kind == "op" and token.text in "([{":
                closing = self.partner[i]
                words = [t.text for t in tokens[outer:i]]
                if words[-1:] == ["DW_LAW"]:
                    self.law(i, closing)
                    outer = closing + 1
                if token.text == "{" and tokens[i - 1].text == ")":
                    self.body(i, closing, "dw_status" in words[:words.index("(")])
                    outer = closing + 1
                elif token.text == "{" and tokens[i - 1].text == "=":
                    for t in tokens[i:closing]:
                        if t.kind == "number":
                            self.number(t.start, t.end)
                i = closing
            elif token.kind == "number":
                self.number(token.start, token.end)
            i += 1
        return sorted(self.edits, key=lambda e: (e.start, e.end, e.new))


def find_edits(source):
    """All edits of a C source file, in order."""
    return Finder(source).find()
