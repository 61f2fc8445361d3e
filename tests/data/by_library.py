"""Twenty results of the example book by a general-purpose library: `pip install uncertainties==3.2.3`, then
`python tests/data/by_library.py > tests/data/by_library.csv`. Nothing here knows the program; the facts are those
of the sheets, each known to half a step of its last digit, of its instrument or of its readout, as a rectangle."""

from uncertainties import ufloat
from uncertainties.umath import atan2, cos, degrees, hypot, radians, sin

PI = 3.141592653589793


def read(value, step):
    """Half a step to either side, rectangular: JCGM 100, 4.3.7 (from memory)."""
    return ufloat(value, step / 2 / 3**0.5)


def speed(rpm):
    return 2 * PI * rpm / 60


class Vector:
    """At an angle in degrees."""

    def __init__(self, x, y):
        self.x, self.y = x, y

    @staticmethod
    def polar(amount, angle):
        return Vector(amount * cos(radians(angle)), amount * sin(radians(angle)))

    def __add__(self, other):
        return Vector(self.x + other.x, self.y + other.y)

    def __sub__(self, other):
        return Vector(self.x - other.x, self.y - other.y)

    def __mul__(self, other):
        if not isinstance(other, Vector):
            return Vector(self.x * other, self.y * other)
        return Vector(self.x * other.x - self.y * other.y, self.x * other.y + self.y * other.x)

    def __truediv__(self, other):
        square = other.x * other.x + other.y * other.y
        return self * Vector(other.x / square, -other.y / square)

    def amount(self):
        return hypot(self.x, self.y)

    def angle(self):
        return degrees(atan2(self.y, self.x))


ROWS = []


def row(result, unit, value):
    number = value.nominal_value % 360 if unit == "deg" else value.nominal_value
    ROWS.append(f'"{result}",{unit},{number:.9g},{2 * value.std_dev:.6g}')


def weighed(at_a, at_b, between):
    """By a scale of 10 g: the whole mass, and where it is centred."""
    a, b = read(at_a, 0.01), read(at_b, 0.01)
    return a + b, b * between / (a + b)


def shares(total, centre, span, planes):
    """Both bearings used up at the worst phase, planes that reach beyond them too."""
    at_a, at_b = total * (span - centre) / span, total * centre / span
    (c1, c2), (d1, d2) = [[abs(span - at) / span for at in planes], [abs(at) / span for at in planes]]
    whole = c1 * d2 - c2 * d1
    return at_a, at_b, (at_a * d2 - at_b * c2) / whole, (c1 * at_b - d1 * at_a) / whole


# Fan wheel 315: weighed at its bearings, G 6.3 at 3550 rpm, planes at 34 and 121 of 164 mm.
mass, centre = weighed(2.73, 2.09, 164)
rotor = "rotor fan wheel 315"
row(f"{rotor} / mass", "kg", mass)
row(f"{rotor} / mass centre", "mm", centre)
row(f"{rotor} / journal load a", "kg", mass * (164 - centre) / 164)
total = 1000 * 6.3 * mass / speed(3550)
at_a, at_b, hub, rim = shares(total, centre, 164, [34, 121])
row(f"{rotor} / tolerance / permissible unbalance", "g·mm", total)
row(f"{rotor} / tolerance / tolerance at a", "g·mm", at_a)
row(f"{rotor} / plane hub / tolerance", "g·mm", hub)
row(f"{rotor} / plane rim / tolerance", "g·mm", rim)

# Calibrated with 3.00 g of the set, known to 0.004 g at k = 2, at half of 268.4 mm; set to 17.2 marks in steps of 0.2.
setup = "setup fan wheel 315 on the soft bench / calibrate hub"
unbalance = ufloat(3.00, 0.002) * read(268.4, 0.1) / 2
# In two opposite positions half of the square of what the rotor itself reads, 0.5 of 8.6 divisions, may be left.
one = unbalance / (read(17.2, 0.2) * 0.5) * read(1, (0.5 / 8.6) ** 2)
row(f"{setup} / calibration unbalance", "g·mm", unbalance)
row(f"{setup} / centrifugal force", "N", unbalance * 1e-6 * speed(1150) ** 2)
row(f"{setup} / one division", "g·mm", one)



# Its record: marks of half a division in steps of 0.2, angles in steps of 5 deg, the calibration mass at 0 deg to 1 deg
# shown at 0 deg in each plane.
def pointed(angle):
    return read(angle, 5) - read(0, 5) + read(0, 1)


one_rim = ufloat(3.00, 0.002) * read(141.0, 0.1) / (read(24.2, 0.2) * 0.5) * read(1, (0.4 / 12.1) ** 2)
left = Vector.polar(read(8.8, 0.2) * 0.5 * one, pointed(310))
right = Vector.polar(read(17.4, 0.2) * 0.5 * one_rim, pointed(85))
record = "record fan wheel 315, 26-0419 / run as found"
row(f"{record} / unbalance hub", "g·mm", left.amount())
acting = left * ((164 - 34) / 164) + right * ((164 - 121) / 164)
row(f"{record} / unbalance bearing a", "g·mm", acting.amount())
row(f"{record} / unbalance bearing a @", "deg", acting.angle())
row(f"{record} / static unbalance", "g·mm", (left + right).amount())

# Fan wheel 400: like the 315, by mass and speed.
other, _ = weighed(4.31, 3.64, 196)
row("rotor fan wheel 400 / tolerance / permissible unbalance", "g·mm", total * other / mass * 3550 / 2900)

# Grinding spindle 30: G 1 at 4500 rpm, flanges beyond both bearings.
mass, centre = weighed(4.83, 3.52, 300)
row(
    "rotor grinding spindle 30 / plane wheel flange / tolerance",
    "g·mm",
    shares(1000 * 1 * mass / speed(4500), centre, 300, [-46, 352])[2],
)


# Fan wheel 560: trial runs; masses weighed to 0.01 g, radii to 0.5 mm (a rule) or 1 mm (as written), angles to 1 deg.
def marks(amount, angle, mark=0.5):
    return Vector.polar(read(amount, 0.2) * mark, read(angle, 5))


found = marks(25.2, 105), marks(13.0, 140)
pad = marks(3.8, 10, 5), marks(18.4, 355)
clip = marks(16.6, 140), marks(21.4, 105)
put = Vector.polar(read(40, 0.01) * read(228, 1), read(0, 1)), Vector.polar(read(35, 0.01) * read(246, 1), read(90, 1))
influence = [[(pad[n] - found[n]) / put[0], (clip[n] - found[n]) / put[1]] for n in (0, 1)]
(a, b), (c, d) = influence
whole = a * d - b * c
first, second = (found[0] * d - b * found[1]) / whole, (a * found[1] - c * found[0]) / whole
setup = "setup fan wheel 560 on the soft bench"
row(f"{setup} / influence left, back plate", "div/g/mm", a.amount())
row(f"{setup} / unbalance found back plate", "g·mm", first.amount())
row(f"{setup} / unbalance found shroud @", "deg", second.angle())

# Pump impeller 125: half a turn on its arbor, to 1 deg; grams to 0.01 at 125.098 mm, where an arc's mass is centred.
turned = Vector.polar(ufloat(1, 1e-12), read(180, 1))
runs = Vector.polar(read(0.20, 0.01) * 125.09814, read(190, 1)), Vector.polar(read(0.16, 0.01) * 125.09814, read(107, 1))
own = (runs[0] - runs[1]) / (Vector(1, 0) - turned)
row("record pump impeller 125, casting 77 / run ground / rotor unbalance suction", "g·mm", own.amount())

print("result,unit,value,expanded")
print("\n".join(ROWS))
