/**
 * The modes of the machine as numbers. A set of modes is interned: equal sets have equal ids, so that comparing two
 * states is comparing two numbers. Fields hold values only, never line numbers.
 *
 * Interning has two levels: the fields that change often (motion, feed) and the id of the set of all others.
 */

/** Places of the modes in a set. Lengths mm, feeds mm/min or as the feed mode says, speeds rev/min, angles degrees. */
export const Mode = {
  /** Id of the set of slow modes; kept by the pool. */
  setup: 0,
  /** 0 1 2 3 33, 38.2 as 382 …: G number × 10; −1 while none was given (or after G80). */
  motion: 1,
  /** F in mm/min (G94), mm/rev (G95) or 1/min (G93); −1 while none was given. */
  feed: 2,
  /** S in rev/min (or m/min under G96); −1 while none was given. */
  speed: 3,
  // From here on: slow modes.
  /** Active canned cycle, G number × 10 (810 …); 0 none. */
  cycle: 4,
  /** 17, 18 or 19. */
  plane: 5,
  /** 90 or 91. */
  distance: 6,
  /** 90 (G90.1: centre words absolute) or 91 (G91.1: from the start point). */
  arcDistance: 7,
  /** 93, 94 or 95. */
  feedMode: 8,
  /** 96 or 97. */
  speedMode: 9,
  /** 20 inch or 21 mm. */
  units: 10,
  /** 40, 41 or 42. */
  radiusCompensation: 11,
  /** D, −1 none. */
  radiusRegister: 12,
  /** 43, 44 or 49. */
  lengthCompensation: 13,
  /** H, −1 none. */
  lengthRegister: 14,
  /** 98 or 99. */
  retract: 15,
  /** G number × 10 of the work offset: 540 … 590, 591 592 593; 10000 + P for G54.1 P. */
  offset: 16,
  /** 610, 611, 630, 640. */
  pathControl: 17,
  /** 3, 4, 5; 0 while none was given; 19 oriented. */
  spindle: 18,
  /** Tool in the spindle, −1 unknown. */
  tool: 19,
  /** Tool called by T, −1 none. */
  toolCalled: 20,
  /** Bits: 1 mist (M7), 2 flood (M8). */
  coolant: 21,
  /** Id (string pool) of the remark that describes the tool in the spindle, 0 none. */
  toolRemark: 22,
  /** Id (string pool) of the last remark that names a tool or thread for the operation, 0 none. */
  operationRemark: 23,
  /** Cycle words, absolute in work coordinates, mm: retract level, depth, initial level; NaN not given. */
  cycleRetract: 24,
  cycleDepth: 25,
  cycleInitial: 26,
  /** Q (mm), P (seconds), I and J shift (mm), Q shift. */
  cyclePeck: 27,
  cycleDwell: 28,
  cycleShiftFirst: 29,
  cycleShiftSecond: 30,
  /** Scaling: 1 on; centre and factors by axis. */
  scaling: 31,
  scaleCentreX: 32,
  scaleCentreY: 33,
  scaleCentreZ: 34,
  scaleX: 35,
  scaleY: 36,
  scaleZ: 37,
  /** Rotation: 1 on; centre (first, second plane axis), angle in degrees. */
  rotation: 38,
  rotationCentreFirst: 39,
  rotationCentreSecond: 40,
  rotationAngle: 41,
  /** 1 while polar programming (G16) is on. */
  polar: 42,
  /** 1 after a program end (M2 M30): what follows does not run. */
  ended: 43,
  /** Bits of what was given explicitly in the program, see `Given`. */
  given: 44,
  /** G52 shift of X Y Z A B C U V W. */
  localShift: 45,
  /** G92 shift of X Y Z A B C U V W. */
  presetShift: 54,
  /** Upper end of a back bore (K of G87 in the report), work coordinates in mm; NaN not given. */
  cycleTop: 63,
  /** Lead of G33 in mm a turn; NaN while none was given. */
  threadLead: 64,
  /** The last straight motion code before arcs or threads: 0 or 10, −1 none. */
  lastStraight: 65,
  /** Tool length that the Z position carries, mm; NaN not known. */
  lengthCarried: 66,
  /** Machine coordinates of the zero of the work offset in force, X Y Z A B C U V W; NaN not known. */
  zero: 67,
  /** Program number of the macro that G66 calls after each move; −1 none. */
  modalMacro: 76,
  /** Whose F is in force: the number of the tool it was given under, or one of `Origin`. */
  feedFrom: 77,
  /** Whose S is in force. */
  speedFrom: 78,
  /** Bits of what a tool change or the way home left on, see `LeftOver`. */
  leftOver: 79,
} as const;

/** Bits of `Mode.given`. */
export const Given = {
  units: 1,
  plane: 2,
  distance: 4,
  offset: 8,
  feedMode: 16,
  spindleStarted: 32,
  spindleStopped: 64,
  toolChanged: 128,
  /** F was lost by a change of the feed mode. */
  feedLost: 256,
  /** Complaints that were made already and wait for their cause to go. */
  feedComplained: 512,
  motionComplained: 1024,
  spindleComplained: 2048,
  /** Words behind the program's end were met. */
  afterEndTold: 4096,
  /** The first cut was told of, since the tool change or what else begins anew. */
  cutTold: 8192,
  /** A word of the active cycle was complained of, or is written with a value that is not known. */
  cycleComplained: 1 << 21,
  /** A feed a tooth that the cutter does not stand was told; goes when it is right again. */
  chipLoadTold: 1 << 22,
  /** A cut was met since tool or tool length were changed last. */
  lengthJudged: 1 << 23,
  /** The tool's length was cancelled by G49, or another register called, and Z has not moved since. */
  lengthCancelled: 1 << 24,
  /** It was told that radius compensation is still on; until G40. */
  compensationTold: 1 << 28,
  /** A fault of radius compensation was told that counts with the radius of a remark; until G40. */
  assumedRadiusTold: 1 << 29,
  /** M49: the override knobs do nothing, until M48. */
  overrideLocked: 1 << 30,
} as const;

/** Whose F or S is in force where it is no tool's number, see `Mode.feedFrom`. */
export const Origin = {
  /** Given under the tool in the spindle. */
  own: -1,
  /** Given before the first tool, for all of them. */
  header: -2,
  /** Of a tapping cycle. */
  tapping: -3,
  /** Of a tool whose number is not known. */
  unknownTool: -4,
} as const;

/** Bits of `Mode.leftOver`. */
export const LeftOver = {
  /** G91, G18 or G19, G93 or G95, G96 were in force at the tool change and not named since. */
  distance: 1,
  plane: 2,
  feedMode: 4,
  speedMode: 8,
  /** The way home ran in G91, and neither G90 nor G91 was named since. */
  distanceAtHome: 16,
  /** F or S was given ahead, for the tool that comes next. */
  feedAhead: 32,
  speedAhead: 64,
  /** What the program said or did before. */
  sawAbsolute: 128,
  sawXY: 256,
  cutMade: 512,
  /** A cut under G94 and G97. */
  plainCut: 1024,
  /** Complaints that were made. */
  speedComplained: 2048,
  shiftTold: 4096,
  planeTold: 8192,
  /** A tool was changed and has not cut yet. */
  newTool: 16384,
  /** The program sets its zero itself, by G92 or G10. */
  zeroGiven: 32768,
  /** The unit changed, and nothing was cut since. */
  unitsChanged: 65536,
} as const;

const HOT = 4;
const FIELDS = 80;

/** How many numbers a set of modes has. */
export const MODE_COUNT = FIELDS;

const bits = new Float64Array(1);
const words = new Int32Array(bits.buffer);

const hashNumbers = (values: Float64Array, from: number, to: number): number => {
  let hash = 0x9e3779b9 | 0;
  for (let i = from; i < to; i++) {
    bits[0] = values[i] + 0; // −0 and 0 are one value
    hash = Math.imul(hash ^ words[0], 0x85ebca6b);
    hash = Math.imul(hash ^ words[1] ^ (hash >>> 15), 0xc2b2ae35);
    hash ^= hash >>> 13;
  }
  return hash;
};

/** Interns rows of `width` numbers: equal rows get equal ids, ids count from 0. NaN equals NaN. */
class RowPool {
  private rows: Float64Array;
  private hashes: Int32Array;
  private table: Int32Array;
  count = 0;
  readonly width: number;

  constructor(width: number) {
    this.width = width;
    this.rows = new Float64Array(width * 64);
    this.hashes = new Int32Array(64);
    this.table = new Int32Array(256).fill(-1);
  }

  /** The id of the row that starts at `from` in `values`. */
  intern(values: Float64Array, from: number): number {
    const hash = hashNumbers(values, from, from + this.width);
    let place = hash & (this.table.length - 1);
    for (;;) {
      const id = this.table[place];
      if (id < 0) return this.add(values, from, hash, place);
      if (this.hashes[id] === hash && this.equals(id, values, from)) return id;
      place = (place + 1) & (this.table.length - 1);
    }
  }

  /** Copies row `id` to `values` at `from`. */
  read(id: number, values: Float64Array, from: number): void {
    const base = id * this.width;
    for (let i = 0; i < this.width; i++) values[from + i] = this.rows[base + i];
  }

  /** One number of row `id`. */
  at(id: number, field: number): number {
    return this.rows[id * this.width + field];
  }

  private equals(id: number, values: Float64Array, from: number): boolean {
    const base = id * this.width;
    for (let i = 0; i < this.width; i++) {
      const a = this.rows[base + i];
      const b = values[from + i];
      if (a !== b && !(Number.isNaN(a) && Number.isNaN(b))) return false;
    }
    return true;
  }

  private add(values: Float64Array, from: number, hash: number, place: number): number {
    const id = this.count++;
    if (id >= this.hashes.length) {
      const rows = new Float64Array(this.rows.length * 2);
      rows.set(this.rows);
      this.rows = rows;
      const hashes = new Int32Array(this.hashes.length * 2);
      hashes.set(this.hashes);
      this.hashes = hashes;
    }
    for (let i = 0; i < this.width; i++) this.rows[id * this.width + i] = values[from + i] + 0;
    this.hashes[id] = hash;
    this.table[place] = id;
    if (this.count * 2 > this.table.length) this.rehash();
    return id;
  }

  private rehash(): void {
    const table = new Int32Array(this.table.length * 2).fill(-1);
    for (let id = 0; id < this.count; id++) {
      let place = this.hashes[id] & (table.length - 1);
      while (table[place] >= 0) place = (place + 1) & (table.length - 1);
      table[place] = id;
    }
    this.table = table;
  }
}

/** All sets of modes that a program runs through, and the strings that modes refer to. */
export class ModePool {
  private readonly setups = new RowPool(FIELDS - HOT);
  private readonly hot = new RowPool(HOT);
  private readonly strings: string[] = [''];
  private readonly stringIds = new Map<string, number>([['', 0]]);

  /** The id of a set of modes; `values[Mode.setup]` is kept up by this call when `setupChanged`. */
  intern(values: Float64Array, setupChanged: boolean): number {
    if (setupChanged) values[Mode.setup] = this.setups.intern(values, HOT);
    return this.hot.intern(values, 0);
  }

  /** Copies set `id` into `values` (length `MODE_COUNT`). */
  read(id: number, values: Float64Array): void {
    this.hot.read(id, values, 0);
    this.setups.read(values[Mode.setup], values, HOT);
  }

  /** One mode of set `id`. */
  at(id: number, field: number): number {
    if (field < HOT) return this.hot.at(id, field);
    return this.setups.at(this.hot.at(id, Mode.setup), field - HOT);
  }

  /** How many different sets there are. */
  get count(): number {
    return this.hot.count;
  }

  /** The id of a string; 0 is the empty one. */
  internString(text: string): number {
    const known = this.stringIds.get(text);
    if (known !== undefined) return known;
    this.strings.push(text);
    this.stringIds.set(text, this.strings.length - 1);
    return this.strings.length - 1;
  }

  /** The string with this id. */
  string(id: number): string {
    return this.strings[id] ?? '';
  }
}
