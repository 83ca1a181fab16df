"""Places in a C++ source where a mutant can be put, and the source with mutants in it.

Works on text as .clang-format leaves it: binary operators stand between blanks, pointers and template arguments do not.
What a user reads (throw, fmt::format), assert and the heads of for loops are left alone.
"""

import re

M = "cw::mutation::"
FACTORS = {"2": "2.0", "1/2": "0.5", "sqrt 2": "1.4142135623730951", "pi": "3.141592653589793"}
UNITS = {"1e3": "1e3", "1e-3": "1e-3"}
LEFT = r"(?<=[\w)\]])"
LITERAL = r"(?<![\w.])(?:\d+\.\d*(?:e[+-]?\d+)?|\d+e[+-]?\d+)(?![\w.])"
NAMED = r"(?<![\w:.>])(?:std::numbers::pi|mu0|two_pi|pi|half_pi_squared|stefan_boltzmann)\b(?! =)"


def blank(text, start, end):
    return text[:start] + re.sub(r"[^\n]", " ", text[start:end]) + text[end:]


def closing(text, at):
    """The place at which the bracket that opens at `at` closes."""
    depth = 0
    for i in range(at, len(text)):
        depth += text[i] in "([{"
        depth -= text[i] in ")]}"
        if depth == 0:
            return i
    return len(text)


def statement_end(text, at):
    """The ; that ends the statement, and whether there is a comma outside all brackets."""
    depth, comma = 0, False
    for i in range(at, len(text)):
        depth += text[i] in "([{"
        depth -= text[i] in ")]}"
        comma |= text[i] == "," and depth == 0
        if text[i] == ";" and depth == 0:
            return i, comma
    return None, True


def code_only(text):
    """The text with blanks where no mutant may be; every character keeps its place."""
    for match in re.finditer(r'//[^\n]*|/\*.*?\*/|"(?:\\.|[^"\\\n])*"|\'(?:\\.|[^\'\\\n])\'|^#[^\n]*', text, re.S | re.M):
        text = blank(text, *match.span())
    for match in re.finditer(r"\bthrow\b|\bstatic_assert\b", text):
        end, _ = statement_end(text, match.start())
        text = blank(text, match.start(), end or match.end())
    for match in re.finditer(r"\b(?:assert|fmt::format|for) ?\(", text):
        text = blank(text, match.start(), closing(text, match.end() - 1))
    return text


def sites(text):
    """All places: (kind, start, end) with what the kind needs."""
    code = code_only(text)
    found = []

    def every(kind, pattern):
        found.extend((kind, match.start(1), match.end(1)) for match in re.finditer(pattern, code))

    every("sum", LEFT + r" ([+-])\s(?=\S)")
    every("sum", LEFT + r" ([+-]=)\s(?=\S)")
    every("product", LEFT + r" ([*/])\s(?=\S)")
    every("scaling", LEFT + r" ([*/]=)\s(?=\S)")
    every("order", LEFT + r" ([<>]=?)\s(?=\S)")
    every("minus", r"(?:[(=?:,] ?|return |\{)(-)(?=[a-zA-Z(])")
    every("function", r"(std::(?:sin|cos|sqrt|conj|exp|log|max|min))(?=\()")
    every("number", f"({LITERAL})")
    every("number", f"({NAMED})")
    every("number", r"(?<![\w.])(\d+)(?= \*\s)")
    every("number", r"[*/] (\d+)(?![\w.])")
    every("minus j", r"(?<![\w.])(j)(?= \* )")
    for match in re.finditer(r"\breturn (?=[\w(*-])|\b(?:double|Complex) \w+ = (?=[\w(*-])", code):
        end, comma = statement_end(code, match.end())
        if end and not comma and code[match.end():end] not in ("true", "false"):
            found.append(("factor", match.end(), end))
    # Zero stays zero for any factor; numbers up to 1e-5 are stopping criteria of iterations.
    return [s for s in sorted(set(found))
            if not (s[0] == "number" and re.match(r"[\d.]", text[s[1]]) and float(text[s[1]:s[2]]) <= 1e-5)]


def mutant(site, text, draw):
    """What one mutant does: (words for the table, [(position, rank, new text, length replaced)])."""
    kind, start, end = site
    was = text[start:end]
    number = "%(id)d"
    if kind == "sum":
        factor = draw.choice((-1, 0))
        words = f"`{was}` " + ("turned" if factor else "and its right side dropped")
        assign = " =" if "=" in was else f" {was}"
        return words, [(end, 1, f" {M}Sum<{number}, {factor}>{{}}{assign}", 0)]
    if kind == "product":
        return f"`{was}` turned", [(end, 1, f" {M}Product<{number}>{{}} {was}", 0)]
    if kind == "scaling":
        return f"`{was}` turned", [(end, 1, f" {M}Scaling<{number}>{{}} =", 0)]
    if kind == "order":
        return f"`{was}` turned", [(end, 1, f" {M}Order<{number}>{{}} {was}", 0)]
    if kind == "minus":
        return "sign dropped", [(start, 10, f"{M}factor<{number}>(-1.0, -1.0) * ", 1)]
    if kind == "function":
        name = was[5:]
        other = {"sin": "cos", "cos": "sin", "sqrt": "none", "conj": "none", "exp": "exp(-x)", "log": "-log",
                 "max": "min", "min": "max"}[name]
        return f"{name} -> {other}", [(start, 10, f"{M}Instead<{number}>::{name}", len(was))]
    if kind == "minus j":
        return "j -> -j", [(start, 10, f"{M}factor<{number}>(-1.0, ", 0), (end, 1, ")", 0)]
    table = dict(FACTORS)
    if kind == "factor":
        table.update(UNITS)
        table["-1"] = "-1.0"
    elif re.fullmatch(r"1e[+-]?\d+", was):
        table = UNITS
    if was.isdigit():
        table = {"2": "2.0"}
    name = draw.choice(sorted(table))
    outer = 2 if kind == "factor" else 1
    what = "value" if kind == "factor" else was
    return f"{what} x {name}", [(start, -outer + 10, f"{M}factor<{number}>({table[name]}, ", 0), (end, outer, ")", 0)]


def with_mutants(text, mutants):
    """The text with all mutants in it; lines keep their numbers."""
    changes = [(p, rank, new % {"id": m["id"]}, cut) for m in mutants for p, rank, new, cut in m["changes"]]
    parts, at = [], 0
    for position, _, new, cut in sorted(changes, key=lambda c: (c[0], c[1])):
        parts += [text[at:position], new]
        at = position + cut
    text = "".join(parts) + text[at:]
    return re.sub(r"\bconstexpr (?=std::array<)|(?<!static )\bconstexpr (?=(?:double|Complex)\b)", "const ", text)
