"""The cautions that stand on every paper, in words; local codes and licensed practice come first."""

NOT_CERTIFIED = "Setting-out aid, not certified. Measure before you weld."
LOCAL_FIRST = (
    "Local rules, your inspector and licensed practice come first. No strength is claimed beyond the load case stated."
)
TOP = (NOT_CERTIFIED, LOCAL_FIRST)

STEERING = (
    "Never weld on outer knuckles, steering arms, pitman arms, tie rods, drag links, spindles, ball-joint "
    "bodies or brake calipers; many inspectors fail any weld or heat on steering parts. Ask yours first."
)
KNUCKLES = "Finish-welding inner knuckles is work for a qualified welder with enough power and a bevelled joint."
CLEANER = "No chlorinated cleaner near an arc: it makes a deadly gas. Strip zinc, paint and oil; ventilate."
VENT = "Drain, flush and vent the housing and tubes before welding; never weld a sealed or oily cavity."
EARTH = (
    "Earth clamp on the knuckle being welded and a second one on the tube beside it; never on table, stand, bar or tie."
)
EARTH_HOUSING = (
    "Earth clamp on the piece being welded, close to the bead and bright; never so that the current runs through bar, "
    "bearings, joints, stand or table."
)
ON_FRAME = (
    "Welding on the frame: battery and controllers off, fuel, brake and power-steering lines moved away or covered, "
    "extinguisher at hand, somebody on fire watch for half an hour after."
)
BOLTED = "The jig is bolted to the table, not tacked to it. Stub pins and bushes come out hot: tongs and gloves."
LIFT = "Nobody under an axle on jacks or tacks. Over 50 lb: two people or a hoist, the bar too."
PINCH = "Pinch points: stub pins and finger bars, tie and index plate, cradle screws, the stand as it is slid on."
TACKS = (
    "Tacks: at least 6 on each knuckle, 3/4 in long, ends ground. Back the station collars off 1/16 to "
    "1/8 in before welding, so that the tube end can shrink inward."
)
TACKED = (
    "Knuckles on tacks carry nothing: no weight on the wheels, no force on the steering. Mock-up under the truck with "
    "links only, springs out, axle held by hoist or jacks, truck on stands, knuckles turned by hand, drag link off. "
    "No spring, no wheel on the floor, before they are finish-welded."
)
COLD = (
    "The jig proves the setting before welding. Read both bores again cold with the jig off; weld pull is "
    "not in the error budget."
)
SIGNED = "Local rule: ______________________   Inspector: ______________________   Initials: ________"

WORK = (STEERING, KNUCKLES, CLEANER, VENT, EARTH, BOLTED, LIFT, PINCH, TACKS, COLD, SIGNED)

BARE = (
    "Bare housing: the jig is drawn without truss and brackets, and plates of it stand where they go. They are fitted "
    "when the jig is off."
)
TORCH = (
    "Plasma: shade for eyes and skin, fume drawn off, nothing that burns under the table, hot slag in the water bed; "
    "grind the hard edge of a cut before it is drilled or bent."
)
BRACKETS = "The axle is cycled on its tacks through its whole travel before a bead is run; nobody under it on tacks."
IRON = "Cast iron and cast steel are told apart before a bead is run on them; what cracks there cracks a month later."
