"""Values of the shipped profiles against published ones; the source stands beside each."""

from __future__ import annotations

import math

import pytest

from underlit.profiles import LightType, load_profile

PROFILE = load_profile("hand-laid")

#: SI, exact since 2019.
BOLTZMANN, CHARGE = 1.380649e-23, 1.602176634e-19

#: IEC 60086-2, round Li-MnO2 cells: diameter max, min, height max, min (mm);
#: capacity from, to (mAh).
#: cr2032: Wikipedia "CR2032 battery" citing IEC 60086. Others: maxima from sellers' pages,
#: minima from memory. Capacities: data-sheet figures at 0.1 to 0.2 mA.
CELLS = {
    "cr1220": (12.5, 12.2, 2.0, 1.8, 35, 40),
    "cr1632": (16.0, 15.7, 3.2, 2.9, 130, 140),
    "cr2016": (20.0, 19.7, 1.6, 1.4, 90, 90),
    "cr2025": (20.0, 19.7, 2.5, 2.2, 160, 165),
    "cr2032": (20.0, 19.7, 3.2, 2.9, 220, 240),
    "cr2450": (24.5, 24.2, 5.0, 4.6, 550, 620),
}

#: Typical forward voltages: light, V, mA, source.
FORWARD = [
    ("red", 1.8, 2.0, "Vishay VLMS30 (1.8 typical at 2 mA)"),
    ("red", 2.0, 20.0, "Vishay VLMS335 (2.0 typical at 20 mA)"),
    ("amber", 2.1, 20.0, "Vishay VLMO335 (2.1 typical at 20 mA)"),
    ("green", 2.65, 2.0, "Kingbright APTF1616 (2.65 typical at 2 mA)"),
    ("green", 3.2, 20.0, "Kingbright APT2012ZGC/E (3.2 typical at 20 mA)"),
    ("blue", 2.65, 2.0, "Kingbright APTF1616 (2.65 typical at 2 mA)"),
    ("blue", 3.3, 20.0, "InGaN, 3.3 typical at 20 mA"),
    ("warm-white", 3.3, 20.0, "Kingbright APTR3216QWF/D (3.3 typical at 20 mA)"),
    ("cool-white", 3.3, 20.0, "Kingbright APTR3216QWF/D (3.3 typical at 20 mA)"),
]

#: Computed from the fits at 1, 5 and 10 mA (reference values, table of default fits).
FITTED = {
    "red": (1.763, 1.858, 1.916),
    "green": (2.576, 2.783, 2.940),
    "blue": (2.570, 2.799, 2.984),
    "warm-white": (2.570, 2.799, 2.984),
}

#: Post: length, width, thickness (mm), weight (g). USPS DMM 101.1.1; Royal Mail, Deutsche Post and
#: Canada Post by second-hand pages.
POST = {
    "us-letter": (11.5 * 25.4, 6.125 * 25.4, 6.35, 3.5 * 28.3495),
    "uk-letter": (240, 165, 5, 100),
    "uk-large-letter": (353, 250, 25, 750),
    "de-standard": (235, 125, 5, 20),
    "de-kompakt": (235, 125, 10, 50),
    "de-gross": (353, 250, 20, 500),
    "ca-standard": (245, 156, 5, 50),
    "ca-oversize": (380, 270, 20, 500),
}


def forward_voltage(light: LightType, ampere: float) -> float:
    """V = I Rs + n Vt ln(I / Is + 1) of the diode alone."""
    thermal = BOLTZMANN * (light.temperature_c + 273.15) / CHARGE
    ideal = light.ideality * thermal * math.log(ampere / light.saturation_current_a + 1.0)
    return ampere * light.series_ohm + ideal


def current_of(light: LightType, volt: float) -> float:
    """The current at a voltage, by bisection (A)."""
    low, high = 0.0, 1.0
    for _ in range(100):
        middle = (low + high) / 2.0
        low, high = (middle, high) if forward_voltage(light, middle) < volt else (low, middle)
    return low


def bus_voltage(lights: list[LightType], volt: float, ohm: float) -> float:
    """Lights side by side on one source, by bisection (V)."""
    low, high = 0.0, volt
    for _ in range(100):
        middle = (low + high) / 2.0
        taken = sum(current_of(light, middle) for light in lights)
        low, high = (middle, high) if taken < (volt - middle) / ohm else (low, middle)
    return low


@pytest.mark.parametrize("name", CELLS)
def test_cell_sizes_and_capacity(name: str) -> None:
    cell = PROFILE.cells[name]
    diameter, diameter_min, height, height_min, low, high = CELLS[name]
    assert (cell.diameter, cell.diameter_min) == (diameter, diameter_min)
    assert (cell.height, cell.height_min) == (height, height_min)
    assert cell.volt == 3.0
    assert low <= cell.capacity_mah <= high


@pytest.mark.parametrize("name", CELLS)
def test_cell_resistances_scale_with_the_electrode(name: str) -> None:
    """Proposed: 15, 60 and 100 ohm for 20 mm cells, times (20 / diameter) squared."""
    cell = PROFILE.cells[name]
    scale = (20.0 / cell.diameter) ** 2
    assert cell.pulse_ohm == pytest.approx(15.0 * scale, abs=0.05)
    assert cell.sustained_ohm == pytest.approx(60.0 * scale, abs=0.06)
    assert cell.aged_ohm == pytest.approx(100.0 * scale, abs=0.06)
    assert cell.pulse_ohm < cell.sustained_ohm < cell.aged_ohm
    assert cell.continuous_ma == pytest.approx(10.0 / scale, abs=0.06)


def test_cap_of_cr2032_lies_in_the_published_band() -> None:
    """Cap diameter 17.7 mm (htfbw.com, weak page), treated as 16 to 17.7 mm."""
    assert 16.0 <= 2.0 * PROFILE.cells["cr2032"].cap_radius <= 17.7
    for cell in PROFILE.cells.values():
        assert cell.cap_radius == pytest.approx(0.4 * cell.diameter)


def test_sustained_resistance_lies_in_the_measured_band() -> None:
    """Near 9 mA a cr2032 sagged to 2.5 V (embeddedcomputing.com 2025): 40 to 70 ohm."""
    assert 40.0 <= PROFILE.cells["cr2032"].sustained_ohm <= 70.0


@pytest.mark.parametrize(("name", "volt", "ma", "source"), FORWARD)
def test_typical_forward_voltages(name: str, volt: float, ma: float, source: str) -> None:
    assert forward_voltage(PROFILE.lights[name], ma / 1000.0) == pytest.approx(volt, abs=5e-4), (
        source
    )


@pytest.mark.parametrize("name", FITTED)
def test_fitted_voltages_between(name: str) -> None:
    for ma, volt in zip((1.0, 5.0, 10.0), FITTED[name], strict=True):
        assert forward_voltage(PROFILE.lights[name], ma / 1000.0) == pytest.approx(volt, abs=6e-4)


def test_one_green_light_on_a_fresh_cell() -> None:
    """Check D14: 3.0 V through 15 ohm, 7.977 mA (computed by an independent method, 0.5 %)."""
    green, cell = PROFILE.lights["green"], PROFILE.cells["cr2032"]
    volt = bus_voltage([green], cell.volt, cell.pulse_ohm)
    assert current_of(green, volt) * 1000.0 == pytest.approx(7.977, rel=0.005)


def test_four_blue_lights_on_a_fresh_cell() -> None:
    """Check D14: bus 2.7577 V, 4.039 mA each (computed by an independent method, 0.5 %)."""
    blue, cell = PROFILE.lights["blue"], PROFILE.cells["cr2032"]
    volt = bus_voltage([blue] * 4, cell.volt, cell.pulse_ohm)
    assert volt == pytest.approx(2.7577, rel=0.005)
    assert current_of(blue, volt) * 1000.0 == pytest.approx(4.039, rel=0.005)


def test_red_beside_blue_takes_nearly_all() -> None:
    """Reference values 2.3: bus 2.213 V, red 52.44 mA, blue 0.014 mA (computed)."""
    red, blue = PROFILE.lights["red"], PROFILE.lights["blue"]
    volt = bus_voltage([red, blue], 3.0, 15.0)
    assert volt == pytest.approx(2.213, abs=1e-3)
    assert current_of(red, volt) * 1000.0 == pytest.approx(52.44, rel=0.005)
    assert current_of(blue, volt) * 1000.0 == pytest.approx(0.014, abs=1e-3)


def test_beams_and_intensities() -> None:
    """APTR3216QWF/D 120 to 250 mcd, 120 degrees; VLMS335 390 to 700 mcd, 2 x 60 degrees;
    APT2012ZGC/E 500 to 700 mcd, 140 degrees; APTF1616 blue 6 to 14 mcd at 2 mA."""
    lights = PROFILE.lights
    for name, ma, low, high in (
        ("warm-white", 20.0, 0.12, 0.25),
        ("cool-white", 20.0, 0.12, 0.25),
        ("red", 20.0, 0.39, 0.7),
        ("amber", 20.0, 0.39, 0.7),
        ("green", 20.0, 0.5, 0.7),
        ("blue", 2.0, 0.006, 0.014),
    ):
        assert low <= lights[name].candela_at[0] <= high, name
        assert lights[name].candela_at[1] == ma
    assert [lights[n].beam_angle for n in ("warm-white", "red", "green")] == [120.0, 120.0, 140.0]


def test_largest_current_stays_under_the_absolute_maximum() -> None:
    """25 to 30 mA d.c. in several data sheets."""
    assert all(light.largest_ma <= 25.0 for light in PROFILE.lights.values())


@pytest.mark.parametrize("name", ["foil-5", "foil-5-plain", "foil-6-plain"])
def test_foil_is_copper_of_35_um(name: str) -> None:
    """Copper 1.7241e-8 ohm m (IEC 60028, from memory): 0.4926 milliohm per square."""
    assert PROFILE.tapes[name].ohms_per_square == pytest.approx(1.7241e-8 / 35e-6, rel=1e-3)


def test_tape_of_200_mm() -> None:
    """Reference values 3: 200 x 5 mm is 0.0197 ohm in copper, 2.0 ohm in fabric (computed)."""
    assert PROFILE.tapes["foil-5"].ohms_per_square * 40 == pytest.approx(0.0197, rel=1e-3)
    assert PROFILE.tapes["fabric-5"].ohms_per_square * 40 == pytest.approx(2.0)


def test_which_adhesives_conduct() -> None:
    conducts = {name: tape.adhesive_conducts for name, tape in PROFILE.tapes.items()}
    assert conducts == {
        "fabric-5": True,
        "foil-5": True,
        "foil-5-plain": False,
        "foil-6-plain": False,
    }


def test_joints_follow_the_proposed_resistances() -> None:
    """Proposed: overlap of 5 x 5 mm 0.1 ohm new, 1 ohm aged; a foot of 3 x 3 mm 0.2 ohm."""
    tape = PROFILE.tapes["fabric-5"]
    assert tape.joint_ohm_mm2 / 25.0 == pytest.approx(0.1, abs=0.05)
    assert tape.joint_aged_ohm_mm2 / 25.0 == pytest.approx(1.0)
    assert tape.pad_ohm_mm2 / 9.0 == pytest.approx(0.2, abs=0.05)
    per_inch2 = PROFILE.tapes["foil-5"].joint_ohm_mm2 / 25.4**2
    assert 0.005 <= per_inch2 <= 0.01  # foil through its adhesive, new: from memory


def rss(parts: list[float]) -> float:
    """Root sum of squares (F. Scholz, "Tolerance Stack Analysis Methods", 1995)."""
    return math.sqrt(sum(part * part for part in parts))


def test_root_sum_of_squares_of_the_published_examples() -> None:
    """Scholz 1995: 1, 1, 1.5 % give 3.5 worst, 2.06 by squares; ten times 0.1 give 1.0, 0.316."""
    assert rss([1.0, 1.0, 1.5]) == pytest.approx(2.0616, abs=1e-4)
    assert rss([0.1] * 10) == pytest.approx(0.316, abs=5e-4)


def test_gaps_of_hand_laid_follow_from_the_stack_up() -> None:
    """Proposed contributions (mm): placement, edge straightness, printing (each twice), paper.

    RSS 1.515 plus the 0.1 mm floor, rounded up to the next half: 2.0. Worst 3.2: the aim, 3.0.
    """
    parts = [1.0, 1.0, 0.2, 0.2, 0.25, 0.25, 0.3]
    assert rss(parts) == pytest.approx(1.515, abs=1e-3)
    assert sum(parts) == pytest.approx(3.2)
    limits = PROFILE.limits
    assert limits.smallest_gap == math.ceil(2.0 * (rss(parts) + 0.1)) / 2.0
    assert limits.aim_gap == round(sum(parts))


def test_gap_of_machine_cut_follows_from_the_stack_up() -> None:
    """Proposed contributions of one transfer (mm): 0.25, 0.25, 0.5; RSS 0.612, worst 1.0."""
    parts = [0.25, 0.25, 0.5]
    assert rss(parts) == pytest.approx(0.612, abs=1e-3)
    assert load_profile("machine-cut").limits.smallest_gap == sum(parts) == 1.0


def test_every_gap_is_wider_than_insulation_needs() -> None:
    """At 3 V at most 0.64 mm (the widest of the published tables for 0 to 15 V)."""
    for name in ("hand-laid", "hand-laid-cautious", "classroom", "machine-cut"):
        assert load_profile(name).limits.smallest_gap > 0.64


@pytest.mark.parametrize("name", POST)
def test_post_classes(name: str) -> None:
    post = PROFILE.post[name]
    assert (post.length, post.width, post.thickness, post.grams) == pytest.approx(
        POST[name], abs=0.05
    )
    assert post.checked
    assert post.source


def test_materials_lie_in_their_bands() -> None:
    """Craft card 250 to 300 g/m2: 0.30 to 0.40 mm, 0.02 to 0.08; copy paper 0.15 to 0.30; vellum
    0.5 to 0.8; opal film 0.4 to 0.7 (all from memory). 230 um is about 180 g/m2 (a seller)."""
    sheets, diffusers = PROFILE.sheets, PROFILE.diffusers
    assert 0.30 <= sheets["card"].thickness <= 0.40
    assert 0.02 <= sheets["card"].transmission <= 0.08
    assert sheets["thin-card"].thickness == 0.23
    assert 0.15 <= sheets["paper"].transmission <= 0.30
    assert 0.5 <= diffusers["vellum"].transmission <= 0.8
    assert 0.4 <= diffusers["opal-film"].transmission <= 0.7
    assert [foam.thickness for foam in PROFILE.foams.values()] == [1.0, 2.0, 3.0, 0.8, 1.6, 3.2]
