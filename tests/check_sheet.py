#!/usr/bin/env python3
"""The sheet of a brew day as files: JSON, HTML, and HTML in a browser.

    check_sheet.py SOURCE_FOLDER WORTFIT

The JSON keeps to its schema and its volumes add up. The HTML closes what it opens, names its tables,
drawings and boxes, keeps the order of headings and the contrast that WCAG 2.1 asks for, and refers to
nothing outside. The parser of the HTML standard (Debian: python3-html5lib, strict) and tidy (Debian:
tidy) find nothing wrong with it, and in a browser (Debian: chromium) nothing is wider than a phone of
360 px or the text of an A4 or Letter page. Where one of them is not installed, that part is left out
and said so.
"""
import html.parser
import json
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

import jsonschema
try:
    import html5lib
except ImportError:
    html5lib = None

ROOT, PROGRAM = (pathlib.Path(a).resolve() for a in sys.argv[1:3])
SCHEMA = json.loads((ROOT / "src/report/sheet.schema.json").read_text(encoding="utf-8"))
LONG = "Unbrokenlongnameofamaltthatnobodywouldgivebutafilemay" * 3
HOSTILE = {
    "recipe": f"<script>document.title='run'</script> {LONG}",
    "malts": [{"id": "pilsner-malt", "name": f"<b>{LONG}</b>", "weight": "3 kg"},
              {"id": "flaked-oats", "name": "Café “oats” & <i>more</i>", "weight": "1.6 kg"},
              {"id": "lactose", "weight": "400 g"},
              {"id": "malt-extract-dry-pale", "weight": "500 g"}],
    "hops": [{"id": "magnum", "name": LONG, "weight": "1234.5 g", "at": "first wort"},
             {"id": "saaz", "weight": "25 g", "at": "60 min"},
             {"id": "saaz", "weight": "25 g", "at": "0 min"},
             {"id": "saaz", "weight": "25 g", "at": "stand 20 min 80 C"},
             {"id": "saaz", "weight": "25 g", "at": "dry 4 days"}],
    "yeast": {"id": "saison-ale", "name": f"\"><img src=x onerror=alert(1)> {LONG}"},
}
BARE = {"recipe": "Sugar wash", "malts": [{"id": "cane-sugar", "weight": "2 kg"}], "hops": []}
# High up, in a cold tun, with vessels too small: cautions of each kind.
HILL = """{ "brewhouse": "<i>Hill</i> kitchen", "batch": "20 L", "kettle": "22 L", "fermenter": "21 L",
  "altitude": "2400 m", "mash": { "tun": "18 L", "tun_heat": "1.2 L", "grain": "12 C" } }"""
TINY = {"recipe": "Jug", "kettle": {"batch_l": 2, "evaporation_l_h": 1},
        "malts": [{"id": "pilsner-malt", "weight": "420 g"}],
        "hops": [{"id": "saaz", "weight": "4 g", "at": "60 min"}], "yeast": {"id": "german-lager"}}
LARGE = {"recipe": "Vat", "kettle": {"batch_l": 1200, "evaporation_l_h": 90},
         "malts": [{"id": "pilsner-malt", "weight": "260 kg"}],
         "hops": [{"id": "saaz", "weight": "2.4 kg", "at": "60 min"}], "yeast": {"id": "german-lager"}}
TWENTY = ["--brewhouse", "examples/brewhouse-20l.json"]
DAYS = [(["examples/spring-bitter.json", *TWENTY], None),
        (["examples/last-autumn-amber.json", "--target", "amber-ale", "--units", "us"], None),
        (["-", *TWENTY, "--carbonation", "4.5 vol", "--priming", "malt extract"], HOSTILE),
        (["-", "--keg", "--units", "us"], HOSTILE),
        (["-"], BARE),
        (["examples/last-autumn-amber.json", "--brewhouse", "HILL"], None),
        (["-", "--units", "us"], TINY),
        (["-"], LARGE)]
WIDTHS = {"a phone": (360, False), "A4": (210 - 28, True), "Letter": (215.9 - 28, True)}  # px; mm
VOID = {"meta", "input"}
problems, checks = [], 0


def check(what, right):
    global checks
    checks += 1
    if not right:
        problems.append(what)


def run(args, recipe):
    done = subprocess.run([PROGRAM, "sheet", *args], cwd=ROOT, capture_output=True, text=True,
                          input=json.dumps(recipe) if recipe else None, timeout=60)
    check(f"sheet {args}: exit status {done.returncode}: {done.stderr}", done.returncode == 0)
    return done.stdout


# ---- The laws once more, as their sources print them ------------------------------------------------

def plato(sg):
    """ASBC table, cubic fit."""
    return -616.868 + 1111.14 * sg - 630.272 * sg ** 2 + 135.997 * sg ** 3


def extract(sg, litres):
    """kg: degrees Plato are per cent by weight."""
    return plato(sg) / 100 * sg * 0.9982 * litres


def fahrenheit(celsius):
    return celsius * 1.8 + 32


def near(what, got, wanted, tolerance):
    check(f"{what}: {got}, by hand {wanted}", abs(got - wanted) <= tolerance)


def check_mash(name, day):
    """J. Palmer, How to Brew, ch. 16.3: quarts, pounds and Fahrenheit; and the tun's share of the heat."""
    mash, rest = day["mash"], day["mash"]["rests"][0]
    lb, qt = mash["grain_kg"] / 0.45359237, rest["water_l"] / 0.946352946
    grain, wanted = fahrenheit(mash["grain_c"]), fahrenheit(rest["temperature_c"])
    strike = 0.2 / (qt / lb) * (wanted - grain) + wanted
    strike += mash["tun_heat_l"] / rest["water_l"] * (wanted - grain)
    near(f"{name}: strike water, F", fahrenheit(rest["water_c"]), strike, 0.01)
    filled = day["water_l"]["mash"] + 0.6676 * mash["grain_kg"]
    for vessel in day["vessels"]:
        if vessel["vessel"] == "mash tun":
            near(f"{name}: the tun", vessel["filled_l"], filled, 0.001 * filled)


def check_readings(name, day):
    """What a remedy leaves has the gravity after the boil: extract is conserved."""
    w = day["water_l"]
    for reading in day["readings"]:
        if reading["what"] != "gravity after the boil":
            continue
        for r in reading["remedies"]:
            kg = extract(r["reading"], w["after_boil"])
            litres = w["after_boil"] + r["water_l"] if "water_l" in r else r.get("leaves_l")
            if litres:
                near(f"{name}: {r['reading']} mended", kg, extract(day["after_boil"], litres), 0.003 * kg)
    late = extract(day["after_boil"], w["after_boil"]) - extract(day["before_boil"], w["before_boil"])
    check(f"{name}: extract before and after the boil, {late} kg come late",
          late > -0.003 * w["after_boil"] and (w["sugars"] > 0 or abs(late) < 0.0005 * w["after_boil"]))


def check_gas(name, day):
    """M.L. Hall's fit in Fahrenheit, and 4.45 g/L of dextrose, 3.84 of sucrose a volume."""
    p, f = day["packaging"], fahrenheit(day["packaging"]["beer_c"])
    air = (1 - 2.25577e-5 * day.get("altitude_m", 0)) ** 5.25588
    near(f"{name}: gas left", p["residual_volumes"],
         (3.0378 - 0.050062 * f + 0.00026555 * f * f) * air, 0.001)
    per_volume = {"dextrose": 4.45, "sucrose": 3.84}.get(p.get("priming"))
    if per_volume:
        grams = max(p["volumes"] - p["residual_volumes"], 0) * per_volume * day["water_l"]["packaged"]
        near(f"{name}: priming", p["priming_g"], grams, 0.003 * grams)


def check_laws(name, day):
    w, y = day["water_l"], day["yeast"]
    if "mash" in day:
        check_mash(name, day)
    near(f"{name}: hot", w["before_boil_hot"], w["before_boil"] / 0.96, 0.001 * w["before_boil"])
    cells = y["million_per_ml_plato"] * w["fermenter"] * plato(day["after_boil"])  # G. Fix
    near(f"{name}: cells", y["billion_cells"], cells, 0.01 * cells)
    check_readings(name, day)
    check_gas(name, day)


def check_json(name, text):
    day = json.loads(text)
    for e in jsonschema.Draft202012Validator(SCHEMA).iter_errors(day):
        problems.append(f"{name}: {e.json_path}: {e.message[:200]}")
    w = day["water_l"]
    check_laws(name, day)
    left = (w["mash"] + w["sparge"] + w["extracts"] + w["sugars"] - w["absorbed"] - w["dead_space"]
            - w["evaporated"] - w["kettle_loss"] - w["fermenter_loss"] - w["dry_hops"])
    check(f"{name}: {left} L are left, {w['packaged']} L packaged", abs(left - w["packaged"]) < 1e-3)


# ---- HTML -------------------------------------------------------------------------------------------

class Reader(html.parser.HTMLParser):
    """Nesting, headings, names of what is not text."""
    def __init__(self, name):
        super().__init__()
        self.name, self.open, self.headings, self.tables, self.words = name, [], [], [], []

    def handle_starttag(self, tag, attributes):
        a = dict(attributes)
        check(f"{self.name}: <{tag}> is not of the sheet", tag not in ("script", "img", "b", "i"))
        if tag in VOID:
            check(f"{self.name}: a box has no name",
                  tag != "input" or "label" in self.open or a.get("aria-label"))
            return
        self.open.append(tag)
        if re.fullmatch("h[1-6]", tag):
            self.headings.append(int(tag[1]))
        if tag == "table":
            self.tables.append(0)
        if tag == "caption":
            self.tables[-1] += 1
        if tag == "th":
            check(f"{self.name}: a title has no scope", a.get("scope") == "col")
        if tag == "svg":
            check(f"{self.name}: a drawing has no name",
                  a.get("role") == "img" and a.get("aria-label"))
        if tag == "html":
            check(f"{self.name}: no language", a.get("lang") == "en-GB")

    def handle_endtag(self, tag):
        check(f"{self.name}: </{tag}> closes {self.open[-1:]}", self.open[-1:] == [tag])
        self.open = self.open[:-1]

    def handle_startendtag(self, tag, attributes):
        check(f"{self.name}: <{tag}/> outside a drawing", "svg" in self.open)

    def handle_data(self, text):
        self.words.append(text)


def luminance(colour):
    """WCAG 2.1, relative luminance."""
    if len(colour) == 4:
        colour = "#" + "".join(2 * c for c in colour[1:])
    parts = [int(colour[i:i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one, other):
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def style_of(text, selector, key):
    rule = re.search(rf"^{re.escape(selector)}\{{([^}}]*)\}}", text, re.M)
    found = rule and re.search(rf"(?:^|;){key}:(#[0-9a-f]+)", rule.group(1))
    return found.group(1) if found else None


def check_contrast(name, text):
    ink, paper = style_of(text, "body", "color"), style_of(text, "body", "background")
    for selector in ("body", ".caution strong", ".small", "figcaption"):
        colour = style_of(text, selector, "color")
        check(f"{name}: no colour for {selector}", colour)
        for ground in (paper, style_of(text, ".caution", "background")):
            if colour:
                check(f"{name}: {selector} {colour} on {ground}", contrast(colour, ground) >= 4.5)
    for selector in (".caution", ".read"):
        check(f"{name}: text on {selector}", contrast(ink, style_of(text, selector, "background")) >= 4.5)
    for fill in set(re.findall(r'<text [^>]*fill="(#[0-9a-f]{6})"', text)):
        check(f"{name}: drawn text {fill}", contrast(fill, paper) >= 4.5)
    for fill in set(re.findall(r'<circle [^>]*fill="(#[0-9a-f]{6})"', text)):
        check(f"{name}: dot {fill}", contrast(fill, paper) >= 3)


def check_html(name, text):
    reader = Reader(name)
    reader.feed(text)
    reader.close()
    check(f"{name}: {reader.open} are left open", not reader.open)
    check(f"{name}: headings {reader.headings}",
          reader.headings[:1] == [1] and set(reader.headings[1:]) == {2})
    check(f"{name}: captions {reader.tables}", set(reader.tables) == {1})
    for outside in ("http", "url(", "@import", "href", "src=\"", "<link"):
        check(f"{name}: has {outside}", outside not in text)
    check_contrast(name, text)
    return " ".join(reader.words)


# ---- Other programs ---------------------------------------------------------------------------------

def check_standard(name, text):
    try:
        html5lib.HTMLParser(strict=True).parse(text)
    except html5lib.html5parser.ParseError as e:
        check(f"{name}: the standard's parser: {e}", False)


def check_tidy(name, path):
    done = subprocess.run(["tidy", "-q", "-e", path], capture_output=True, text=True, timeout=60)
    check(f"{name}: tidy: {done.stderr[:600]}", done.returncode == 0)


MEASURE = """<script>addEventListener("load",function(){
var most=document.documentElement.getBoundingClientRect().right+0.5,wide=[];
document.querySelectorAll("body *").forEach(function(e){
  var r=e.getBoundingClientRect(),c=e.closest("caption");
  if(!c&&r.width>0&&r.right>most)wide.push(e.tagName+" "+r.right+" "+e.textContent.slice(0,40));});
document.body.textContent="WIDE "+JSON.stringify(wide)+" TITLE "+document.title;});</script>"""


def check_browser(browser, name, path, folder):
    text = path.read_text(encoding="utf-8")
    for what, (width, paper) in WIDTHS.items():
        copy = pathlib.Path(folder) / "measured.html"
        style = f"<style>html{{width:{width}{'mm' if paper else 'px'}}}</style>"
        page = text.replace("@media print", "@media all") if paper else text
        copy.write_text(page.replace("</head>", style + MEASURE + "</head>"), encoding="utf-8")
        done = subprocess.run([browser, "--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage",
                               f"--user-data-dir={folder}/profile", "--dump-dom", copy.as_uri()],
                              capture_output=True, text=True, timeout=120)
        found = re.search(r"WIDE (\[.*\]) TITLE (.*)<", done.stdout)
        check(f"{name} on {what}: the browser measured nothing: {done.stderr[-300:]}", found)
        if found:
            check(f"{name} on {what}: too wide: {found.group(1)[:600]}", found.group(1) == "[]")
            check(f"{name}: a name was run", found.group(2) != "run")


def main():
    browser = shutil.which("chromium")
    tidy = shutil.which("tidy")
    with tempfile.TemporaryDirectory() as folder:
        hill = pathlib.Path(folder) / "hill.json"
        hill.write_text(HILL, encoding="utf-8")
        for number, (args, recipe) in enumerate(DAYS):
            name = f"day {number}"
            args = [str(hill) if a == "HILL" else a for a in args]
            check_json(name, run([*args, "--json"], recipe))
            path = pathlib.Path(folder) / f"day{number}.html"
            run([*args, "--html", str(path)], recipe)
            words = check_html(name, path.read_text(encoding="utf-8"))
            if recipe:
                check(f"{name}: its name is not shown", recipe["recipe"] in words)
            if html5lib:
                check_standard(name, path.read_text(encoding="utf-8"))
            if tidy:
                check_tidy(name, path)
            if browser:
                check_browser(browser, name, path, folder)
    for program, found in (("html5lib", html5lib), ("tidy", tidy), ("chromium", browser)):
        if not found:
            print(f"check_sheet.py: {program} is not installed: its part is left out")
    for p in problems:
        print(p)
    print(f"{checks} checks of {len(DAYS)} brew days, {len(problems)} problems")
    return 1 if problems else 0


if __name__ == "__main__":
    sys.exit(main())
