"""Questions to the program's own laws, answered by `ask` (tests/reference/ask.c)."""
import math
import subprocess


class Ask:
    """Answers of the program `path`, many at a time."""

    def __init__(self, path):
        self.path = path

    def lines(self, questions):
        """One answer line for each (quantity, inputs) pair."""
        text = "".join(f"{quantity}\t{pairs(inputs)}\n" for quantity, inputs in questions)
        done = subprocess.run([self.path], input=text, capture_output=True, text=True, check=False)
        answers = done.stdout.splitlines()
        if done.returncode != 0 or len(answers) != len(questions):
            raise RuntimeError(f"{self.path}: {done.stderr.strip()}")
        return answers

    def numbers(self, quantity, states):
        """The quantity for every dictionary of inputs; a refused state is nan."""
        answers = self.lines([(quantity, state) for state in states])
        return [math.nan if a == "error" else float(a) for a in answers]

    def number(self, quantity, **inputs):
        return self.numbers(quantity, [inputs])[0]

    def equilibria(self, states):
        """A dictionary for every state: mole fractions and what else the program says of it."""
        answers = self.lines([("equilibrium", state) for state in states])
        return [{} if a == "error" else dict(split(pair) for pair in a.split(";"))
                for a in answers]


def pairs(inputs):
    return ";".join(f"{name}={value:.17g}" if isinstance(value, float) else f"{name}={value}"
                    for name, value in inputs.items())


def split(pair):
    name, value = pair.split("=")
    return name, float(value)
