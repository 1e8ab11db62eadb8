"""What the outside checks share: small generated channels, the program's figures, and a tally of what held."""

import json
import os
import pathlib
import subprocess
import sys
import tempfile
from fractions import Fraction

ROOT = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = os.environ.get("TALLYSPOON", str(ROOT / "target/release/tallyspoon"))
DEMO = pathlib.Path(os.environ.get("DEMO", str(ROOT / "target/demo")))
DAY = "2026-03-01"


class Tally:
    """Counts checks; `end` fails if any failed or none was made."""

    def __init__(self, source):
        self.source, self.made, self.faults = source, 0, []

    def equal(self, what, ours, theirs):
        self.holds(f"{what}: ours {ours}, theirs {theirs}", ours == theirs)

    def near(self, what, ours, theirs):
        """Equal, but for the 12th decimal place that figures/1 may round at."""
        self.holds(f"{what}: ours {ours}, theirs {theirs}", abs(Fraction(ours) - Fraction(theirs)) <= Fraction(1, 10**12))

    def holds(self, what, truth):
        self.made += 1
        if not truth:
            self.faults.append(what)

    def end(self):
        for fault in self.faults[:40]:
            print(f"  differs  {fault}", file=sys.stderr)
        print(f"  {self.made - len(self.faults)} of {self.made} agree with {self.source}")
        sys.exit(1 if self.faults or not self.made else 0)


def run(*arguments, content=None):
    """Runs the program and returns what it printed; its refusal is ours."""
    command = [PROGRAM, *arguments, *(["--content", str(content)] if content else [])]
    done = subprocess.run(command, capture_output=True, text=True, stdin=subprocess.DEVNULL)
    if done.returncode:
        raise SystemExit(f"{' '.join(command)} ended with {done.returncode}:\n{done.stderr}")
    return done.stdout


def figures(recipe, *arguments, content=None):
    return json.loads(run("figures", recipe, "--json", *arguments, content=content))


class Channel:
    """A channel in a folder that goes away with it."""

    def __init__(self, channel="", pantry="", prices="", **recipes):
        self.folder = tempfile.TemporaryDirectory(prefix="tallyspoon-check-")
        self.path = pathlib.Path(self.folder.name)
        top = {"name": '"Check"', "locale": '"en-US"', "currency": '"USD"'}
        top.update(line.split(" = ", 1) for line in channel.splitlines() if line.strip())
        self.write("channel.toml", "".join(f"{key} = {value}\n" for key, value in top.items()))
        self.write("pantry.toml", pantry)
        self.write("prices.csv", "date,item,pack,price,place,note\n" + prices)
        for name, text in recipes.items():
            self.write(f"{name}/recipe.md", text)

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.folder.cleanup()

    def write(self, path, text):
        file = self.path / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, encoding="utf-8")

    def figures(self, recipe, *arguments):
        return figures(recipe, *arguments, content=self.path)


def recipe(front, lines, method="", title="Check"):
    """A recipe with these front-matter lines and formula lines; its method uses every line."""
    keys = [line.split("=")[0].strip() for line in lines.splitlines() if "=" in line and not line.startswith("[")]
    text = method or "## Mix\nMix " + ", ".join("{" + key + "}" for key in keys) + ".\n"
    formula = lines if lines.lstrip().startswith("[") else f"[formula]\n{lines}"
    return f'+++\ntitle = "{title}"\n{front}\n{formula}\n+++\n\n{text}'


def item(key, **facts):
    """A pantry item of which nothing is left to guess."""
    known = {"name": key.replace("-", " "), "density": "1 g/mL", "water": "0 %", "role": "other"}
    known.update(facts)
    lines = "".join(f'{name.replace("_", "-")} = "{value}"\n' for name, value in known.items())
    return f"[{key}]\n{lines}allergens = []\ndiet = [\"vegan\"]\n"


def line(document, identity):
    return next(entry for entry in document["lines"] if entry["id"] == identity)
