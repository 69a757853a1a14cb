"""The first job file: an invented small job to write one's own over, with a word on every section."""

from __future__ import annotations

from string import Template

from sillwright.lengths import Unit

_TEXT = Template("""\
# A job file for Sillwright. Write your own wall over this invented one, and save often.
#
# A line reads  key = value.  What follows a # is for people and is passed over.
# Lengths: $lengths
# Everything is seen from outside. x runs to the right along the wall, from one mark you choose.

sillwright = 1                # version of this form; leave it
units      = "$unit"             # of every bare number that is a length: "in" or "mm"
title      = "Kitchen window, back wall"
note       = "An invented job, to write your own over."
invented   = true             # take this line away when the readings are yours

# Where the wall stands. Ask the building department for wind and snow.
[site]
exposure        = "suburb, trees around"
$site

# The wall mark: where the running tape starts, x = 0.
[wall]
mark = "nail in the left corner board"

# How the openings are kept dry. Leave the section out, and the plan lists all that it took for you.
# sillwright water --schemes tells the schemes. wall_pieces: sheathing, studs, board inside.
[water]
scheme      = "strips over the fin"
back_dam    = $dam
wall_pieces = $wall_pieces

# Each roll on hand, what is cut from it, and what its product sheet says, with the date of the sheet.
[[water.roll]]
name       = "sill roll"
use        = ["pan"]
family     = "butyl tape"
width      = $roll

# What you have to bring the sill up to the line, and how much you would plane off a high place.
# stack_above_line: all that goes between the tops of the pads and the underside of the unit.
[kit]
shims            = $shims
shim_width       = $shim_width
planing_max      = $planing
stack_above_line = $stack

# How true is true enough. Leave the section out for the usual.
[tolerances]
pad             = $pad        # a pad's top off the line
level_over_unit = $level        # pads of one unit, shot again

# How far off a reading of each kind may well be: two out of three lie within this.
[reading_sd]
laser    = $sd
width    = $sd
height   = $sd
diagonal = $sd_long
plumb    = $sd
run      = $sd_long
string   = $sd

# Openings that share one sill line. An opening with a line of its own gets a row of its own.
[[row]]
openings = ["A"]

# The window or door for an opening: frame outside to outside, and the room its maker asks for around it.
[[unit]]
opening              = "A"
kind                 = "casement, hinged left"
frame_width          = $frame_width
frame_height         = $frame_height
jamb_depth           = $jamb
fin                  = $fin
$weight
ordered              = true   # false while the size can still be changed
least_side_clearance = $clear
least_head_clearance = $clear
largest_out_of_plane = $plane

# Two marks that stay put, such as nails. The first is height 0. Shoot both from every set-up, first and last.
[[mark]]
name = "M1"
x    = $m1

[[mark]]
name = "M2"
x    = $m2

# One table for each place where the laser stood, with its shots in the order you took them.
# down: from the beam down to the point; a point above the beam takes a minus.
# edge: "outer" is at the sheathing face, "inner" at the room side.
# A shot on something else says what: { point = "finished floor", x = ..., down = ... }
[[setup]]
name   = "from the lawn"
x      = $stood
series = [
  { mark = "M1", down = $down_m1 },
  { mark = "M2", down = $down_m2 },
$shots
  { mark = "M1", down = $down_m1 },
]

# The rough opening. near: how far from the corners you took the outer widths and heights.
# plumb: how far the top of a jack leans over the height of your level; right and into the house are plus.
# string_gap: two strings corner to corner; plus when the one from bottom left lies further in.
# Strong and shy are fine: $strong. Read twice? Give both: $twice.
# Leave out what you did not read.
[[opening]]
name         = "A"
near         = $near
left_jack_x  = $left
right_jack_x = $right
width        = { bottom = $w1, middle = $w2, top = $w1 }
height       = { left = $h1, centre = $h2, right = $h1 }
diagonal     = { bottom_left_to_top_right = $d1, bottom_right_to_top_left = $d2 }
plumb.left   = { over_height = $over, top_leans_right = $lean, top_leans_in = 0 }
plumb.right  = { over_height = $over, top_leans_right = 0, top_leans_in = $lean }
string_gap   = 0
""")

_INCHES = {
    "lengths": 'in quotes as the tape says them, such as "36 5/16"; whole or decimal inches may stand bare.',
    "site": "design_wind_mph = 115\nground_snow_psf = 25",
    "shims": '["1/32", "1/16", "1/8", "3/16", "1/4", "3/8"]',
    "shim_width": '"1 1/2"',
    "planing": '"1/4"',
    "stack": '"7/16"',
    "pad": '"1/32"',
    "level": '"1/16"',
    "sd": "0.03",
    "sd_long": "0.06",
    "frame_width": '"35 3/8"',
    "frame_height": '"47"',
    "jamb": '"4 9/16"',
    "fin": '"1 3/8"',
    "dam": '"1"',
    "wall_pieces": '["1/2", "3 1/2", "1/2"]',
    "roll": "12",
    "weight": "weight_lb            = 74",
    "clear": '"1/4"',
    "plane": '"1/8"',
    "m1": "2",
    "m2": "96",
    "stood": "50",
    "down_m1": '"30 1/8"',
    "down_m2": '"30 1/4"',
    "shots": """\
  { sill = "A", x = 32, edge = "outer", down = "26 3/16" },
  { sill = "A", x = 32, edge = "inner", down = "26 3/16" },
  { sill = "A", x = 48, edge = "outer", down = "26 1/4" },
  { sill = "A", x = 48, edge = "inner", down = "26 3/16" },
  { sill = "A", x = 64, edge = "outer", down = "26 5/16" },
  { sill = "A", x = 64, edge = "inner", down = "26 5/16" },""",
    "strong": '"36 5/16 strong"',
    "twice": '["36 5/16", "36 3/8"]',
    "near": "2",
    "left": '"30 1/8"',
    "right": '"66 7/16"',
    "w1": '"36 5/16"',
    "w2": '"36 1/4"',
    "h1": '"48 3/8"',
    "h2": '"48 1/4"',
    "d1": '"60 1/2"',
    "d2": '"60 7/16"',
    "over": '"44 3/8"',
    "lean": '"1/16"',
}

_MILLIMETRES = {
    "lengths": 'whole or decimal millimetres, bare; inches in quotes with their mark: "36 5/16 in".',
    "site": "design_wind_m_s = 45\nground_snow_kPa = 1.2",
    "shims": "[1, 2, 3, 5, 10]",
    "shim_width": "40",
    "planing": "6",
    "stack": "12",
    "pad": "1",
    "level": "1.5",
    "sd": "0.8",
    "sd_long": "1.5",
    "frame_width": "900",
    "frame_height": "1195",
    "jamb": "115",
    "fin": "35",
    "dam": "25",
    "wall_pieces": "[12, 90, 12]",
    "roll": "300",
    "weight": "weight_kg            = 34",
    "clear": "6",
    "plane": "3",
    "m1": "50",
    "m2": "2400",
    "stood": "1250",
    "down_m1": "765",
    "down_m2": "768",
    "shots": """\
  { sill = "A", x = 800,  edge = "outer", down = 665 },
  { sill = "A", x = 800,  edge = "inner", down = 665 },
  { sill = "A", x = 1200, edge = "outer", down = 667 },
  { sill = "A", x = 1200, edge = "inner", down = 666 },
  { sill = "A", x = 1620, edge = "outer", down = 668 },
  { sill = "A", x = 1620, edge = "inner", down = 668 },""",
    "strong": '"922 strong"',
    "twice": "[922, 923]",
    "near": "50",
    "left": "765",
    "right": "1687",
    "w1": "922",
    "w2": "921",
    "h1": "1229",
    "h2": "1226",
    "d1": "1537",
    "d2": "1535",
    "over": "1129",
    "lean": "2",
}


def starter(units: Unit) -> str:
    """Return the text of a first job file, ready to be planned and to be written over."""
    return _TEXT.substitute({"unit": units, **(_INCHES if units == "in" else _MILLIMETRES)})
