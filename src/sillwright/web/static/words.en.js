// All English texts of the site app. For another language, copy this file, translate the values, and set the
// page's language to its name. {names} are filled in; one/many go by a count.

export default {
  screen: {
    jobs: "Jobs", measure: "Measure", set: "Set", heights: "Heights", water: "Water", deck: "Deck", lists: "Lists",
    days: "Days", proof: "Proof", edit: "The job", sync: "This phone", pair: "Pair this phone",
  },
  head: { name: "Sillwright", nav: "Screens in the order of the work", jobs: "All jobs", edit: "Change the job" },
  sheet: { close: "Put away", no: "No, leave it" },
  stamp: { stop: "STOP", fix: "FIX", watch: "WATCH" },
  shell: { new: "A new version of this page is here.", take: "Use it now" },

  jobs: {
    none: "No jobs yet. Start a wall, or look at the invented example.",
    new: "New wall", make: "Start this wall", example: "Look at an invented example", exampleTitle: "Invented example",
    import: "Bring in a job file", title: "What is the job?", units: "Tape", in: "inches", mm: "millimetres",
    count: "How many openings share the sill line?", wide: "Unit, outside width (all alike; empty if not known)",
    high: "Unit, outside height", sizeHint: "As on the order: 35 3/8. Each unit can be changed later.",
    invented: "invented · ", failed: "That did not work", unreachable: "The laptop cannot be reached; a job is started there.",
    caution: "Local code, the maker's instructions and a licensed engineer come before anything shown here.",
  },

  pair: {
    lead: "Type the code that the laptop shows, once for each phone.", code: "Code", name: "Who is this?",
    nameHint: "a name for this phone", do: "Pair", unreachable: "The laptop cannot be reached. Same Wi-Fi?",
  },

  plain: {
    asking: "Asking the laptop…", notHere: "The laptop cannot be reached, and this phone has nothing of it yet.",
    unchecked: "Not checked yet: the laptop has not seen all that this phone has.",
  },

  tool: { tape: "Tape", laser: "Laser", level: "Level, strings" },
  measure: {
    tools: "What is in your hand", noOpening: "The job has no opening yet.", toEdit: "Add an opening",
    unchecked: "Not checked yet. The sill is moved by what was read since; the laptop has not seen it.",
    next: "Measure next", other: "Another reading…", again: "Read it again",
    kept: "Kept on this phone: {label}, {value}", dropped: "Taken away: {label}",
    readings: { one: "{name}: 1 reading", many: "{name}: {n} readings" },
    off: "off {off}", waiting: "not sent",
    setup: "Where the laser stands", newSetup: "Laser stands somewhere new",
    markShots: { one: "{name}: shot once", many: "{name}: {n} shots" },
    newMark: "New mark…", markName: "What you call it", markAuto: "M{n}", markX: "{name}: where along the wall?", markNext: "Next",
    newStation: "Shoot the sill somewhere else…", whereX: "Sill of {opening}: where along the wall?",
    fromMark: "Running tape from the wall mark.",
  },
  status: { doubtful: "in doubt", set_aside: "set aside" },
  pads: { caption: "Pads", moved: "Pads, moved by what was read since: not checked yet", pad: "pad", at: "at", front: "front", back: "back" },

  wall: {
    mark: "wall mark", fromMark: "from the wall mark, x = 0", overview: "The wall from outside. {title}", opening: "Opening {name}",
    tape: "Opening {name}: places for the tape", level: "Opening {name}: leans, strings, thickness", laser: "Sill of {name} under the laser",
    read: "{label}: {value}", unread: "{label}: not read", waiting: "Not sent yet.",
    toScale: "to scale, from outside", stretched: "heights ×{n}", noShots: "sill not shot yet", unchecked: "not checked yet",
    thick: "thickness", leansRight: "leans right", leansIn: "leans in", strings: "strings",
    level_line: "line", head: "head", front: "front edge", back: "back edge",
  },

  place: {
    bottom: "bottom", middle: "middle", top: "top", left: "left", centre: "centre", right: "right",
    bottom_left_to_top_right: "bottom left to top right", bottom_right_to_top_left: "bottom right to top left",
    top_left: "top left", top_right: "top right", bottom_left: "bottom left", bottom_right: "bottom right",
  },
  spot: {
    inner: ", room side",
    width: "{opening} width, {place}{inner}", height: "{opening} height, {place}{inner}", diagonal: "{opening} diagonal, {place}",
    jack: "{opening} {place} jack from the wall mark", lean_right: "{opening} {place} jack leans right",
    lean_in: "{opening} {place} jack leans in", plumb_line: "{opening} {place} jack from a hanging line",
    string_gap: "{opening} gap between strings", thickness: "{opening} wall thickness, {place}",
    wall_string: "String to sheathing at {x}", sill: "{opening} sill at {x}{inner}", head: "{opening} head at {x}{inner}",
    mark: "Mark {place}", point: "{place} at {x}", pad: "Pad {place} again{inner}",
  },
  kind: {
    width: "Width between the jacks", height: "Height from sill to head", diagonal: "Diagonal",
    jack: "Running tape to a jack", lean_right: "How far a jack leans right", lean_in: "How far a jack leans in",
    plumb_line: "Gap from a hanging line to a jack", string_gap: "Gap between crossed strings", thickness: "Wall thickness at a corner",
    wall_string: "Gap from a string along the wall", sill: "Laser to a sill", head: "Laser to a head", mark: "Laser to a mark",
    point: "Laser to anything else", pad: "Laser to a pad, shot again",
  },
  column: {
    opening: "Opening", place: "Which", setup: "Where the laser stands", x: "Along the wall, from the wall mark",
    at_height: "Over or at which height", edge: "Which edge",
  },
  edge: { outer: "front, at the sheathing", inner: "back, room side" },
  other: { title: "What was read?", go: "Now the reading", noSetup: "First say where the laser stands." },
  setup: {
    title: "Where does the laser stand?", name: "Name", auto: "stand {n}", again: "again {n}", x: "How far along the wall [{unit}]",
    turned: "Which way does it face?", unsaid: "not said", same: "as at the first stand", round: "turned round",
    instrument: "Which laser", done: "Stand here", hint: "Shoot both marks from here, first and last.",
  },

  keypad: {
    said: "The reading", type: "Type with the keyboard", back: "Take back", whole: "Whole number", blade: "Sixteenths on the blade",
    word: { even: "on the mark", strong: "strong", shy: "shy" }, qualifier: "Strong or shy", minus: "Minus", feet: "That was feet", point: "Point",
    aboveBeam: "Above the beam", otherWay: "The other way", keep: "Keep", next: "Keep, then {place}", drop: "Take it away", note: "Note",
    empty: "Type what the tape says.", start: "What does the tape say?",
    wallSays: "The wall says {value} ± {about}", asWall: "As the wall says: {value} ± {about}",
    more: "{off} more than the wall says ({value} ± {about})", less: "{off} less than the wall says ({value} ± {about})",
    farMore: "{off} more than the wall says ({value} ± {about}). Read it once more.",
    farLess: "{off} less than the wall says ({value} ± {about}). Read it once more.",
  },

  conflict: {
    title: "Two phones changed this:", by: " {device}", inUse: " · in use", gone: "taken away",
    hint: "Both are kept. Tap the one that is right, or read it again.", settled: "Settled: {label}",
  },

  drawing: {
    which: "Which drawing", all: "all", pan: "{title}. Scroll to see all of it.", whole: "{title}: whole", smaller: "{title}: smaller", larger: "{title}: larger",
    laptop: { one: "The laptop's drawing", many: "The laptop's drawings ({n})" },
  },
  findings: { jump: { one: "1 finding, go to it", many: "{n} findings, go to the first" } },
  finding: {
    limit: "{value}; limit {limit}", answer: "Answer it", by: "Who settled it?", note: "What was decided, on what paper?",
    next: "Next", done: "Keep the answer", kept: "Answer kept on this phone",
  },
  why: { title: "Why?", ask: "Why?", of: "Why: {label}", asking: "Asking the laptop…", none: "The answer is not on this phone, and the laptop cannot be reached.", source: "Source: {source}", see: "Leads on to:" },

  acts: {
    done: "{done} of {of} done", tick: "Act {number} done: {text}", title: "Act {number}", do: "Done", undo: "Not done after all",
    kept: "Ticked: {text}", undone: "Opened again: {text}", changed: "Done as: {was}. It has changed since.",
    blocked: "Held: {hold} comes first", reshoot: "Shoot it again",
  },
  again: { title: "Pads shot again", lead: "From one stand: both marks first, every pad, a mark last.", pad: "Pad {n}" },
  hold: {
    tick: "Seen and right", override: "Go on without it…", why: "Why, and who says so?", undo: "Hold again",
    photo: "Take a photo first: this will be covered.", noPhoto: "There is no photo of it yet. Tick it all the same?",
    ticked: "Seen and right. {device}", overridden: "Gone on without it: {reason} {device}", kept: "Kept: {title}",
  },
  step: { of: "Step {n} of {of}", done: "Done, next step", undo: "Not done after all", back: "Step before", next: "Step after" },
  photo: { take: "Photo", kept: "Photo kept on this phone", show: "Show photo {at}", title: "Photo", alt: "Photo at {place}" },
  note: { title: "Note", label: "What is worth keeping?", add: "Note", done: "Keep", kept: "Note kept on this phone" },
  weather: { add: "Weather", label: "What the weather does: rain, wind, frost", was: "Weather: {text}" },
  sign: { add: "Sign off", name: "Name", role: "Who you are: carpenter, inspector, owner", what: "What you sign for", done: "Sign", kept: "Signed: {name}, {what}", was: "{name}, {role}: {what}" },
  work: {
    start: "Make: {title}", running: "At work…", cancel: "Stop it", cancelled: "Stopped.", file: "Open {name}",
    unreachable: "The laptop cannot be reached; this is made there.",
  },

  // word for word those of sillwright.lengths
  lengths: {
    examples: "Write a reading such as 27 3/8, 4' 3 1/2\" or 1302 mm.", divisions: "Tapes divide by 2, 4, 8, 16, 32 or 64.",
    meant: "Tapes divide by 2, 4, 8, 16, 32 or 64; did you mean {meant}?", at: "at character {n_th}, '{part}'", atEnd: "at the end",
    noReading: "'{text}' is not a tape reading: {place}.", tooLarge: "'{text}' is no length on a house.",
    tooLargeDo: "Lengths go up to 10 000 ft; check the unit and the digits.", tooLong: "'{text}' is too long for a length.",
    tooLongDo: "Write one reading such as 27 3/8.", empty: "'{text}' is empty.", notLength: "'{text}' is not a length.",
    dash: "A dash joins inches and fraction without spaces: 27-3/8; write one length, not a sum.",
    wordLast: "Strong, shy, + or - comes last, after the unit.",
    feetFirst: "Feet come first, as a whole number or a decimal: 4' 6\" or 4.5 ft.",
    space: "Write inches, a space and a fraction: 27 3/8.",
    one: "Write one length, such as 27 3/8, 4' 3 1/2\" or 1302 mm, with strong or shy after it.",
    once: "Say strong or shy once, before or after.",
    metricFraction: "Metric lengths take decimals, not fractions; inches take their own mark: 27 3/8\".",
    inchMark: "Add the inch mark (27 3/8\") or write millimetres.", feetOrMetric: "Write feet and inches, or metric.",
    wholeFeet: "Before inches, feet are a whole number.", noInches: "The inches are missing; write 4' or 4' 0\".",
    below12: "After feet, inches stay below 12.", comma: "The comma could mark thousands or decimals; write {whole} or {decimal}.",
    nothing: "A fraction of nothing; write {whole}.", topHeavy: "The top of a fraction is less than its bottom; write {better}.",
  },

  event: {
    reading_drop: "taken away", job_set: "job changed", job_add: "added to the job", job_drop: "taken out of the job", job_file: "job file",
    act_done: "done", act_undone: "not done", note_add: "note", photo_add: "photo", hold_tick: "seen", hold_override: "gone on without",
    hold_undo: "held again", sign: "signed", weather_note: "weather", answer_add: "answer",
  },
  sync: {
    keepOpen: "Keep this page open: this phone does not trust the laptop yet.",
    all: "All of it is on the laptop.", asking: "Asking the laptop…", noLaptop: "The laptop cannot be reached. What you type is kept here.",
    waiting: { one: "1 thing is on its way to the laptop.", many: "{n} things are on their way to the laptop." },
    waitingNo: { one: "The laptop cannot be reached. 1 thing is kept on this phone.", many: "The laptop cannot be reached. {n} things are kept on this phone." },
    someRefused: { one: "The laptop refused 1 thing. Look at it here.", many: "The laptop refused {n} things. Look at them here." },
    unpaired: "The laptop does not know this phone. Pair it again; nothing is lost.",
    unsent: "Not sent yet", refused: "Refused", copy: "Copy as text", share: "Share", copied: "Copied", try: "Try to send now",
    photo: "A photo", change: "changed to {value}", event: "{what}: {text}", throw: "Throw it away", throwTitle: "Throw this away?",
    short: { all: "on laptop", waiting: "kept here", refused: "refused", away: "no laptop" },
  },
  devices: { show: "Who may write", title: "Who may write", this: "this phone", revoke: "Lock out" },
  theme: { title: "Light", auto: "as the phone", light: "light", dark: "dark" },

  edit: {
    leadIn: "Lengths as the tape says them, in inches. Readings are typed on the drawing.", leadMm: "Lengths in millimetres. Readings are typed on the drawing.", export: "Take out the job file", import: "Put in another job file",
    importSure: "The file takes the place of the whole job. What was typed before stays in the record.",
    add: "Add: {name}", drop: "Take it out", dropSure: "{name} goes, with all that is in it.", kept: "Kept on this phone",
    yes: "yes", no: "no", unsaid: "not said", number: "This takes a number.",
    name: {
      kit: "Shims and planing", unit: "Units", opening: "Openings", row: "Rows on one sill line", head_line: "Head lines", mark: "Marks",
      wall: "The wall", site: "The site", code: "Code", tolerances: "How true", reading_sd: "How far off a reading may be",
      assume: "Taken of old framing", deck: "The deck", forecast: "Forecast", instrument: "Instruments", invented: "invented",
      title: "title", note: "note", units: "tape",
    },
  },
};
