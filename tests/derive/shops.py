"""A shop that records everything, as typed on the command line, and a sound run of every calculator from it."""

from __future__ import annotations

from diagnose.cli.calc import told_on_the_line
from diagnose.consult import Consultant
from diagnose.derive.resolve import Computed

SILVER = """
rubber=natural rubber; model metal=brass; platen temperature=153 C; cure time=60 min; rubber thickness=25.4 mm
frame length=73 mm; frame width=48 mm; frame depth=25 mm; sheets=8; flash mass=9 g; model mass=6 g; pack mass=100 g
block cooled=flat between plates; platen readings=153 C, 151 C, 154 C, 156 C, 149 C; press display=153 C
pressure on the rubber=1 MPa; storage time=14 months; storage temperature=27 C; warm-up time=6 min
heat barrier thickness=0.8 mm; model size=18 mm; cavity size=17.6 mm; wax size=17.4 mm; cast size=17.1 mm
wanted finished size=17.5 mm; ring bore=17.3 mm; injection pressure=0.55 bar; cavity area=2 cm2; clamp force=45 N
cavity width=2 mm; wax=injection wax; wax temperature=70 C; wax congealing point=62 C; mold temperature=25 C
wax gate diameter=2.5 mm; section at the gate=3 mm
heaviest section=3 mm; heaviest section width=5 mm; thinnest section=1 mm; hold time=8 s
time in the mold=2 min; wax shot weight=1.8 g; wax room temperature=22 C; time between shots=60 s; shot interval=3 min
pot temperature=72 C; marked pot pressure=2 bar; wax level over the nozzle=75 mm; pot lid diameter=150 mm
mold vacuum=75 kPa; pot vacuum=80 kPa; thinnest section that filled=1.2 mm; pressure that filled=0.55 bar
part volume=1.9 cm3; wax weights=1.80 g, 1.81 g, 1.79 g, 1.80 g, 1.83 g; altitude=180 m; gate diameter=3 mm
trunk diameter=8 mm; button diameter=25 mm; button weight=30 g; tree diameter=57 mm; tree height=75 mm; part width=22 mm
part circle=45 mm; part height=8 mm; trunk length=60 mm; number of parts=12; trunk wax weight=4 g; tree wax weight=25 g
row sections=3 mm, 2.5 mm, 2 mm; metal=sterling; metal head=50 mm; gate legs=2; leg diameter=2.5 mm
investment=gypsum investment; flask diameter=76 mm; flask height=101 mm; water ratio=40 ml/100 g; powder weight=640 g
water weight=256 g; mixing time=3 min; bowl vacuum time=90 s; pouring time=60 s; flask vacuum time=90 s
gloss-off time=11 min; flasks in one mix=4; investing vacuum=91 kPa; slurry temperature=22 C; density cup weight=170 g; rest before heat=2 h
powder in the flask=560 g; empty flask weight=400 g; fired flask weight=950 g; filled flask weight=1210 g
wax in the flask=25 g; end cover=13 mm; burnout hold temperatures=150 C, 370 C, 732 C, 540 C
burnout hold times=2 h, 1 h, 3 h, 1 h; burnout ramps=2 C/min, 2 C/min, 4 C/min, 4 C/min; pour clock time=10 h
kiln to pour time=45 s; flask temperature=540 C; kiln volume=28 l; vent height=400 mm; vent area=6 cm2
core half time=20 min; pour hold temperature=540 C; pour soak time=45 min; flasks in the kiln=4; kiln offset=5 C
burnout top temperature=732 C; burnout top hold=3 h; pour temperature=970 C; casting method=vacuum casting
vacuum at pour=88 kPa; metal weight=320 g; melting power=2 kW; melt time=6 min; stock fineness=92 %
fresh metal share=50 %; quench delay=10 min; mass in air=10 g; mass in water=9.02 g; mass in water after soak=9.03 g
sound density=10.36 g/cm3; water left in the mold=2 g; second metal share=7.5 %; wanted fineness=92.5 %
stock weight=100 g; addition fineness=100 %; karat=18; marked fineness=92.5 %; weight lost=0.1 g
alloy shares=92.5 %, 7.5 %; alloy densities=10.5 g/cm3, 8.96 g/cm3; spin speed=400 rpm; arm radius=250 mm
metal surface radius=180 mm; time under force=60 s; fixed point reading=960 C; parting gap=0.1 mm
wanted parting gap=0.05 mm; wanted injection pressure=0.4 bar; fin length=6 mm; oxygen above the melt=21 %
"""
OTHERWISE = (
    "rubber=peroxide silicone; own t90=8 min; own t90 temperature=165 C; rubber scorch time=2 min;"
    "gel temperature=165 C; measured rubber shrinkage=3 %; ring circumference size=54; hands-off time=9 min;"
    "barometer=100 kPa;"
    "top platen temperature=165 C; bottom platen temperature=160 C; metal=fine silver; casting method=spin casting",
    "ring inch size=7; heaviest section width=20 mm; metal=silver-copper mix; casting method=gravity pouring",
)


def typed(*texts: str) -> dict[str, str]:
    pairs = (pair for text in texts for line in text.strip().splitlines() for pair in line.split(";"))
    return dict(tuple(map(str.strip, pair.split("=", 1))) for pair in pairs if pair.strip())  # type: ignore[misc]


def sound_runs(of: Consultant) -> dict[str, Computed]:
    """Return a run of every calculator, from the shop as it is or with another rubber, metal and way of casting."""
    found: dict[str, Computed] = {}
    for text in (SILVER, *(f"{SILVER};{more}" for more in OTHERWISE)):
        told = told_on_the_line(of, [f"{name}={value}" for name, value in typed(text).items()])
        for name, done in of.resolver.resolve(told).done.items():
            found.setdefault(name, done)
    found["melting range"] = of.resolver.run_one("melting range", {"metal": "sterling"})  # from the alloy alone
    return found
