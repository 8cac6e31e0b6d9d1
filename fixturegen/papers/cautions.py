"""The cautions that stand on every paper, in words; local codes and licensed practice come first."""

TOP = (
    "Setting-out aid, not certified. Measure before you weld.",
    "Local rules, your inspector and licensed practice come first. No strength is claimed beyond the load case stated.",
)

WORK = (
    "Never weld on outer knuckles, steering arms, pitman arms, tie rods, drag links, spindles, ball-joint "
    "bodies or brake calipers; many inspectors fail any weld or heat on steering parts. Ask yours first.",
    "Finish-welding inner knuckles is work for a qualified welder with enough power and a bevelled joint.",
    "No chlorinated cleaner near an arc: it makes a deadly gas. Strip zinc, paint and oil; ventilate.",
    "Drain, flush and vent the housing and tubes before welding; never weld a sealed or oily cavity.",
    "Earth clamp on the knuckle being welded and a second one on the tube beside it; never on table, "
    "stand, bar or tie.",
    "The jig is bolted to the table, not tacked to it. Stub pins and bushes come out hot: tongs and gloves.",
    "Nobody under an axle on jacks or tacks. Over 50 lb: two people or a hoist, the bar too.",
    "Pinch points: stub pins and finger bars, tie and index plate, cradle screws, the stand as it is slid on.",
    "Tacks: at least 6 on each knuckle, 3/4 in long, ends ground. Back the station collars off 1/16 to "
    "1/8 in before welding, so that the tube end can shrink inward.",
    "The jig proves the setting before welding. Read both bores again cold with the jig off; weld pull is "
    "not in the error budget.",
    "Local rule: ______________________   Inspector: ______________________   Initials: ________",
)
