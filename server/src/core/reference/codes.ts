/**
 * What the G and M codes do, in a few words of the trade, for hover and completion.
 * Source: the functions of ISO 6983-1, DIN 66025, EIA RS-274-D and the report NIST IR 6556, in our own words, from memory.
 * Which of them a control knows is a matter of its profile, not of this table.
 */

/** A code and what it does. G codes carry ten times their number, so that G59.1 is 591; M codes their number. */
type CodeRow = readonly [code: number, name: string];

const gCodes: readonly CodeRow[] = [
  [0, 'go there at rapid'],
  [10, 'cut in a straight line at feed'],
  [20, 'cut a clockwise arc'],
  [30, 'cut a counter-clockwise arc'],
  [40, 'wait (dwell)'],
  [90, 'exact stop at the end of this block'],
  [100, 'write offset or tool data'],
  [150, 'polar coordinates off'],
  [160, 'polar coordinates on: radius and angle'],
  [170, 'work in the XY plane'],
  [180, 'work in the ZX plane'],
  [190, 'work in the YZ plane'],
  [200, 'lengths in inches'],
  [210, 'lengths in millimetres'],
  [280, 'go to the reference point by way of a point'],
  [290, 'come back from the reference point by way of a point'],
  [300, 'go to the second reference point by way of a point'],
  [330, 'cut a thread at a fixed lead'],
  [382, 'probe toward the part, alarm if nothing is touched'],
  [383, 'probe toward the part'],
  [384, 'probe away from the part, alarm if contact stays'],
  [385, 'probe away from the part'],
  [400, 'cutter radius compensation off'],
  [410, 'cutter radius compensation, cutter left of the path'],
  [420, 'cutter radius compensation, cutter right of the path'],
  [430, 'tool length compensation on'],
  [440, 'tool length compensation on, length taken the other way'],
  [490, 'tool length compensation off'],
  [500, 'scaling off'],
  [501, 'mirror image off'],
  [510, 'scale the path'],
  [511, 'mirror the path'],
  [520, 'shift the work zero for a while'],
  [530, 'this block in machine coordinates'],
  [540, 'work offset 1'],
  [541, 'extra work offset, its number in P'],
  [550, 'work offset 2'],
  [560, 'work offset 3'],
  [570, 'work offset 4'],
  [580, 'work offset 5'],
  [590, 'work offset 6'],
  [591, 'work offset 7'],
  [592, 'work offset 8'],
  [593, 'work offset 9'],
  [610, 'exact path'],
  [611, 'exact stop in every block'],
  [630, 'tapping mode: feed override locked'],
  [640, 'smooth path: corners may be rounded'],
  [650, 'call a subprogram with arguments'],
  [660, 'call a subprogram after every move'],
  [670, 'stop calling after every move'],
  [680, 'turn the coordinates by an angle'],
  [690, 'coordinates no longer turned'],
  [700, 'lengths in inches'],
  [710, 'lengths in millimetres'],
  [730, 'drill in pecks, short lift to break the chip'],
  [740, 'tap left hand: feed in, reverse, feed out'],
  [760, 'fine bore: feed in, stop turned, step off the wall, rapid out'],
  [800, 'end the cycle'],
  [810, 'drill: feed in, rapid out'],
  [820, 'drill with a dwell at the bottom, rapid out'],
  [830, 'drill in pecks, full lift out of the hole each time'],
  [840, 'tap: feed in, reverse, feed out'],
  [850, 'bore or ream: feed in, feed out'],
  [860, 'bore: feed in, spindle stops, rapid out'],
  [870, 'back boring, or bore with retract by hand'],
  [880, 'bore: feed in, dwell, stop, retract by hand'],
  [890, 'bore: feed in, dwell, feed out'],
  [900, 'coordinates from the work zero'],
  [901, 'arc centre from the work zero'],
  [910, 'coordinates from where the tool stands'],
  [911, 'arc centre from the start of the arc'],
  [920, 'shift the work zero to where the tool stands'],
  [921, 'cancel the shift of the work zero'],
  [930, 'feed as one over the time of the block'],
  [940, 'feed a minute'],
  [950, 'feed a turn of the spindle'],
  [960, 'constant cutting speed'],
  [970, 'constant spindle speed'],
  [980, 'cycle retracts to the level before it'],
  [990, 'cycle retracts to level R'],
];

const mCodes: readonly CodeRow[] = [
  [0, 'stop until the operator starts again'],
  [1, 'stop if optional stop is switched on'],
  [2, 'end of program'],
  [3, 'spindle on, clockwise'],
  [4, 'spindle on, counter-clockwise'],
  [5, 'spindle stop'],
  [6, 'change tool'],
  [7, 'mist coolant on'],
  [8, 'flood coolant on'],
  [9, 'coolant off'],
  [17, 'end of subprogram'],
  [19, 'stop the spindle at a fixed angle'],
  [30, 'end of program, back to its start'],
  [48, 'feed and speed override allowed'],
  [49, 'feed and speed override locked'],
  [98, 'call a subprogram'],
  [99, 'back from the subprogram, or start over'],
];

const gNames = new Map(gCodes);
const mNames = new Map(mCodes);

/** What a G code does, by ten times its number (G59.1 is 591), or undefined for one that is not in the table. */
export function gCodeName(code10: number): string | undefined {
  return gNames.get(code10);
}

/** What an M code does, by its number, or undefined for one that is not in the table. */
export function mCodeName(code: number): string | undefined {
  return mNames.get(code);
}
