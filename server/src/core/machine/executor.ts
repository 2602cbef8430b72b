/**
 * Executes blocks: keeps modes and positions, turns blocks into moves, and raises faults for what a control would refuse.
 * Knows no rule texts; what it meets goes to its listener. Order within a block as in the design's language page.
 */
import { type Block, WordFlag } from '../syntax/block.ts';
import type { Variables } from '../syntax/variables.ts';
import type { ArcFacts } from './arcFacts.ts';
import { createArcFacts } from './arcs.ts';
import { readCodes } from './blockCodes.ts';
import { type Ending, macroCallWord, modalCall, raiseAlarm, takeArguments } from './calls.ts';
import { noteFeed } from './carriedOver.ts';
import { codeTable } from './codes.ts';
import { RadiusCompensation } from './compensation.ts';
import type { Configuration } from './configuration.ts';
import { AXIS_COUNT, D, F, G, H, I, J, K, M, P, Q, R, S, T, Z } from './letters.ts';
import { LENGTH_AXIS, lengthInForce } from './machinePosition.ts';
import { Given, MODE_COUNT, Mode, type ModePool, Origin } from './modes.ts';
import { blockMotion } from './motion.ts';
import { MoveFlag, MoveKind, MoveTable } from './moves.ts';
import { AXIS_BITS, AXIS_WORDS, planeOf } from './planes.ts';
import type { ControlProfile } from './profile.ts';
import { keepZeros } from './references.ts';
import { lastTangent } from './tangent.ts';

/** Who hears what the executor meets. */
export interface ExecutionListener {
  /** Something a control would refuse; `word` is the index of the word it is about, −1 none. */
  fault(
    code: string,
    message: string,
    start: number,
    end: number,
    data: Readonly<Record<string, string | number>>,
    word: number,
    arc?: ArcFacts,
  ): void;
  /** Codes of the block took effect; its motion comes next. */
  codes(): void;
  arc(arc: ArcFacts): void;
  /** A hole was drilled by the active cycle at a position (work coordinates, mm). */
  hole(x: number, y: number, z: number): void;
  /** The block drills with the active cycle; called once, before its holes. */
  cycle(): void;
  /** The block leaves at rapid along the normal axis; `plunged` is true where a cut straight in came before it. */
  rapidOut(plunged: boolean): void;
  /** The block moves at rapid (G0); called before it does. */
  rapid(): void;
  /** G28 or G30; called with its intermediate point as the target. */
  home(): void;
  /** The block cut at feed. */
  cut(): void;
  /** Something that is not executed yet, by kind. */
  notExecuted(kind: string, start: number, end: number): void;
}

const CODE_LETTERS = (1 << S) | (1 << T) | (1 << H) | (1 << D);
const NO_VALUES: ReadonlyMap<number, number> = new Map();
/** Words that a cycle keeps even from a block without motion. */
const CYCLE_LETTERS = (1 << P) | (1 << Q);
const MOTION_LETTERS = AXIS_BITS | (1 << I) | (1 << J) | (1 << K) | (1 << R);

const NOTHING_OPEN = new Float64Array(0);

const same = (a: number, b: number): boolean => a === b || (Number.isNaN(a) && Number.isNaN(b));

/** Runs blocks one after the other. */
export class Executor {
  readonly profile: ControlProfile;
  readonly configuration: Configuration;
  readonly pool: ModePool;
  readonly table: ReturnType<typeof codeTable>;
  readonly listener: ExecutionListener;
  readonly variables: Variables;
  /** Modes as they are now. */
  readonly modes = new Float64Array(MODE_COUNT);
  /** Modes before the block, kept up only for blocks with codes. */
  readonly before = new Float64Array(MODE_COUNT);
  /** Work coordinates, mm and degrees; NaN unknown. */
  readonly position = new Float64Array(AXIS_COUNT);
  /** Where the block moves to. */
  readonly target = new Float64Array(AXIS_COUNT);
  readonly arc: ArcFacts = createArcFacts();
  /** Where moves go; set by who runs a segment. */
  moves = new MoveTable();
  /** Where the programmed moves go while radius compensation leads the cutter beside them. */
  contour = new MoveTable(0);
  readonly compensation: RadiusCompensation;
  /** True while moves have to pass through `compensation`. */
  isCompensating = false;
  /** Set where modes or registers that compensation depends on may be others than when it looked. */
  compensationStale = false;
  /** Line of the block, counted in the segment. */
  line = 0;
  /** Millimetres a unit of the program. */
  unit = 1;
  /** True where a number without a point counts whole units. */
  readonly wholeUnits: boolean;
  block!: Block;
  /** Where the segment begins, and the direction it is entered in (unit vector, NaN none). */
  readonly entryPosition = new Float64Array(AXIS_COUNT).fill(Number.NaN);
  readonly entryTangent = new Float64Array(3).fill(Number.NaN);
  /** G codes (× 10) of the block that hold for it alone: 40 G4, 280 G28 …; −1 none. */
  once = -1;
  /** The block's own motion or cycle code, −1 where modal. */
  motionCode = -1;
  /** Motion mode before the block. */
  motionBefore = -1;
  /** Index of the word with the motion code. */
  motionWord = -1;
  /** The call or return that the block asks for; undefined none. */
  ending: Ending | undefined;
  /** True while a subprogram or macro runs; kept up by who runs the program. */
  inCall = false;
  /** True while a macro runs that G65 or G66 called: G66 does not call within it. */
  inMacro = false;
  /** Arguments of the block's macro call by variable. */
  macroValues: ReadonlyMap<number, number> = NO_VALUES;
  /** Codes of the stop order that act behind the motion. */
  readonly afterMotion: number[] = [];
  /** Set where axes other than X Y Z of `target` were written; outside it they equal the position's. */
  othersTouched = false;
  /** The tool length in force is another one than Z carries: the next move of Z takes it along. */
  private lengthPending = false;
  private hotDirty = true;
  private setupDirty = true;
  private id = 0;

  constructor(configuration: Configuration, pool: ModePool, variables: Variables, listener: ExecutionListener) {
    this.configuration = configuration;
    this.profile = configuration.profile;
    this.wholeUnits = configuration.profile.decimalPoint === 'whole-unit';
    this.pool = pool;
    this.variables = variables;
    this.listener = listener;
    this.table = codeTable(configuration.profile);
    this.compensation = new RadiusCompensation(this);
    this.reset();
  }

  /** The state at power-on. */
  private reset(): void {
    const { modes, profile } = this;
    modes.fill(0);
    this.position.fill(Number.NaN);
    this.target.fill(Number.NaN);
    const start = profile.start;
    modes[Mode.motion] = start.motion;
    modes[Mode.feed] = -1;
    modes[Mode.speed] = -1;
    modes[Mode.plane] = start.plane;
    modes[Mode.distance] = start.distance;
    modes[Mode.arcDistance] = 91;
    modes[Mode.feedMode] = start.feedMode;
    modes[Mode.speedMode] = 97;
    modes[Mode.units] = start.units;
    modes[Mode.radiusCompensation] = 40;
    modes[Mode.radiusRegister] = -1;
    modes[Mode.lengthCompensation] = 49;
    modes[Mode.lengthRegister] = -1;
    modes[Mode.retract] = start.retract;
    modes[Mode.offset] = start.offset;
    modes[Mode.pathControl] = 640;
    modes[Mode.tool] = -1;
    modes[Mode.toolCalled] = -1;
    for (let field = Mode.cycleRetract; field <= Mode.cycleShiftSecond; field++) modes[field] = Number.NaN;
    modes[Mode.cycleTop] = Number.NaN;
    modes[Mode.threadLead] = Number.NaN;
    modes[Mode.lastStraight] = start.motion;
    modes[Mode.feedFrom] = Origin.own;
    modes[Mode.speedFrom] = Origin.own;
    modes[Mode.modalMacro] = -1;
    modes[Mode.scaleX] = 1;
    modes[Mode.scaleY] = 1;
    modes[Mode.scaleZ] = 1;
    keepZeros(this);
    this.lengthPending = false;
    this.hotDirty = true;
    this.setupDirty = true;
    this.updateUnit();
  }

  /** Takes over a state: modes by id, position, moves that compensation waits with. */
  restore(id: number, position: Float64Array, openMoves: Float64Array = NOTHING_OPEN): void {
    this.pool.read(id, this.modes);
    this.position.set(position);
    this.target.set(position);
    this.id = id;
    this.hotDirty = false;
    this.setupDirty = false;
    this.updateUnit();
    this.updateLength();
    this.compensation.restore(openMoves);
    this.compensationStale = true;
  }

  /** Id of the modes as they are now. */
  modesId(): number {
    if (this.hotDirty || this.setupDirty) {
      this.id = this.pool.intern(this.modes, this.setupDirty);
      this.hotDirty = false;
      this.setupDirty = false;
    }
    return this.id;
  }

  /** Sets a mode. */
  set(field: number, value: number): void {
    const old = this.modes[field];
    if (old === value || (Number.isNaN(old) && Number.isNaN(value))) return;
    this.modes[field] = value;
    if (field <= Mode.speed) this.hotDirty = true;
    else this.setupDirty = true;
  }

  /** Notes that the program said something itself. */
  give(bit: number): void {
    this.set(Mode.given, this.modes[Mode.given] | bit);
  }

  /** Takes back notes of `give`. */
  takeBack(bits: number): void {
    this.set(Mode.given, this.modes[Mode.given] & ~bits);
  }

  /** Keeps the length of a unit in step with the units. */
  updateUnit(): void {
    this.unit = this.modes[Mode.units] === 20 ? 25.4 : 1;
  }

  /** Notes whether the tool length in force is still to be carried out by a move of Z. */
  updateLength(): void {
    const { modes } = this;
    if (modes[Mode.lengthCompensation] === 49 && modes[Mode.lengthCarried] === 0) this.lengthPending = false;
    else this.lengthPending = !same(this.lengthInForce(), modes[Mode.lengthCarried]);
  }

  /** What G43 or G44 adds to Z, mm; NaN where it is not known. */
  lengthInForce(): number {
    return lengthInForce(this.configuration, (field) => this.modes[field]);
  }

  /** Carries a changed tool length out where the block moves Z. Called before a move is kept. */
  carryLength(): void {
    if (!this.lengthPending) return;
    if (same(this.position[LENGTH_AXIS], this.target[LENGTH_AXIS]) && !this.block.has(Z)) return;
    this.set(Mode.lengthCarried, this.lengthInForce());
    this.lengthPending = false;
  }

  /** Begins the next program of the file: everything is as at power-on, and the path begins anew. */
  beginProgram(line: number): void {
    this.interruptCompensation();
    this.compensation.restore(NOTHING_OPEN);
    this.isCompensating = false;
    this.reset();
    this.moves.add(Number.NaN, Number.NaN, Number.NaN, line, MoveKind.renamed | MoveFlag.programStart, this.modesId());
    this.noteOthers();
  }

  /** Executes one block. */
  execute(block: Block, line: number): void {
    if (this.compensationStale) this.updateCompensation();
    this.block = block;
    this.line = line;
    this.once = -1;
    this.motionCode = -1;
    this.motionWord = -1;
    this.motionBefore = this.modes[Mode.motion];
    this.ending = undefined;
    if (block.codeCount > 0 && this.profile.flow && macroCallWord(block) >= 0) this.macroValues = takeArguments(block);
    const present = block.present;
    if (this.isPlainMotion(block)) {
      if ((present & (1 << F)) !== 0) this.setFeed();
      this.takeMotion(block);
    } else if (
      block.codeCount > 0 ||
      (present & CODE_LETTERS) !== 0 ||
      block.remarks.length > 0 ||
      block.flow !== undefined
    ) {
      this.before.set(this.modes);
      readCodes(this);
      if (this.compensationStale) this.updateCompensation();
      this.listener.codes();
    } else if ((present & (1 << F)) !== 0 && !this.isLead()) this.setFeed();
    if ((block.present & MOTION_LETTERS) !== 0 || this.once >= 0 || this.motionCode >= 0) blockMotion(this);
    else if ((block.present & CYCLE_LETTERS) !== 0 && this.modes[Mode.cycle] !== 0) blockMotion(this);
    if (this.modes[Mode.modalMacro] >= 0 && this.callsAfterMove()) modalCall(this);
    if (this.afterMotion.length > 0) this.runAfterMotion();
    if (block.assigns && this.profile.systemVariables === 'macro') raiseAlarm(this);
  }

  /** True where G66 calls its macro: behind a block that moves, outside the macro itself. */
  private callsAfterMove(): boolean {
    return this.ending === undefined && !this.inMacro && this.hasAxisWord() && this.once < 0;
  }

  /** True for blocks whose only code is one of G0 G1 G2 G3 while no cycle is active: most codes of most programs. */
  private isPlainMotion(block: Block): boolean {
    if (block.codeCount !== 1 || (block.present & (CODE_LETTERS | (1 << M))) !== 0) return false;
    if (block.remarks.length > 0 || block.flow !== undefined || this.modes[Mode.cycle] !== 0) return false;
    const code = block.values[block.slot[G]];
    return code === 0 || code === 1 || code === 2 || code === 3;
  }

  private takeMotion(block: Block): void {
    this.motionWord = block.slot[G];
    this.motionCode = block.values[this.motionWord] * 10;
    this.setMotion(this.motionCode);
  }

  /** Sets the motion mode; what was straight before an arc is kept for the end of a cycle. */
  setMotion(code: number): void {
    const old = this.modes[Mode.motion];
    if (code > 10 && old <= 10) this.set(Mode.lastStraight, old);
    this.set(Mode.motion, code);
  }

  /** True where F is the lead of the thread that is being cut, and no feed. */
  private isLead(): boolean {
    return this.modes[Mode.motion] === 330 && this.profile.leadWord === 'F';
  }

  /** Takes the block's F. */
  setFeed(): void {
    const value = this.block.value(F);
    const inTime = this.modes[Mode.feedMode] === 93;
    this.set(Mode.feed, Number.isNaN(value) ? value : Math.max(0, inTime ? value : value * this.unit));
    this.takeBack(Given.feedLost | Given.feedComplained);
    noteFeed(this);
  }

  /** Value of word `index` as a length in mm (degrees for rotary axes). */
  lengthAt(index: number): number {
    const { block, profile } = this;
    const value = block.values[index];
    const letter = block.letters[index];
    const rotary = letter <= 2;
    if (profile.decimalPoint === 'increment' && (block.flags[index] & (WordFlag.point | WordFlag.computed)) === 0) {
      if (rotary) return value * 0.001;
      return this.unit === 1 ? value * 0.001 : value * 0.0001 * 25.4;
    }
    return rotary ? value : value * this.unit;
  }

  /** Value of word `index` as an angle in degrees. */
  angleAt(index: number): number {
    const { block, profile } = this;
    const isWritten = (block.flags[index] & (WordFlag.point | WordFlag.computed)) !== 0;
    return profile.decimalPoint === 'increment' && !isWritten ? block.values[index] * 0.001 : block.values[index];
  }

  /** Length of the word with this letter in mm, NaN without. */
  length(letter: number): number {
    return this.block.has(letter) ? this.lengthAt(this.block.slot[letter]) : Number.NaN;
  }

  /** Raises a fault about word `index`. */
  faultAt(
    code: string,
    message: string,
    index: number,
    data: Record<string, string | number> = {},
    arc?: ArcFacts,
  ): void {
    const { block } = this;
    const start = index >= 0 ? block.starts[index] : this.firstOffset();
    const end = index >= 0 ? block.ends[index] : this.lastOffset();
    this.listener.fault(code, message, start, end, data, index, arc);
  }

  /** Offset of the first word. */
  private firstOffset(): number {
    return this.block.wordCount > 0 ? this.block.starts[0] : this.block.start;
  }

  private lastOffset(): number {
    return this.block.wordCount > 0 ? this.block.ends[this.block.wordCount - 1] : this.block.end;
  }

  /** Brings radius compensation up to date with modes and registers. */
  updateCompensation(): void {
    this.compensationStale = false;
    this.isCompensating = this.compensation.update();
  }

  /** Ends what compensation waits with. */
  interruptCompensation(): void {
    if (!this.isCompensating) return;
    this.compensation.interrupt();
    this.updateCompensation();
  }

  /** True if the active plane is seen as in a mirror: an odd number of its axes has a negative factor. */
  isMirrored(): boolean {
    const { modes } = this;
    if (modes[Mode.scaling] !== 1) return false;
    const plane = planeOf(modes[Mode.plane]);
    return modes[Mode.scaleX + plane.first] * modes[Mode.scaleX + plane.second] < 0;
  }

  /** Unit vector in which the path arrives, NaN behind a rapid or where it is not known. */
  arrival(out: Float64Array): void {
    if (this.isCompensating && this.compensation.arrival(out)) return;
    lastTangent(this.moves, this.moves.count, this.entryPosition, this.entryTangent, this.pool, out);
  }

  /** A wait of so many seconds. */
  wait(seconds: number, flags: number): void {
    const { moves, position } = this;
    if (this.isCompensating && this.compensation.isOpen) {
      this.compensation.wait(seconds, MoveKind.dwell | flags);
      return;
    }
    moves.add(position[0], position[1], position[2], this.line, MoveKind.dwell | flags, this.modesId());
    moves.addExtra(seconds, 0, 0, 0, 0);
  }

  /** Adds the arc of `arc` to `target` and makes that the position; `others` if further axes move along. */
  arcTo(others: boolean): void {
    const { arc, moves, target } = this;
    if (this.isCompensating) {
      this.compensation.take(MoveKind.arc, others);
      this.isCompensating = this.compensation.isNeeded();
    } else {
      moves.add(target[0], target[1], target[2], this.line, MoveKind.arc, this.modesId());
      moves.addExtra(arc.centreFirst, arc.centreSecond, arc.radius, arc.endRadius, arc.sweep);
      if (others) this.noteOthers();
    }
    this.position.set(target);
  }

  /** Adds a move to `target` and makes it the position. Moves that go nowhere are left out. */
  moveTo(kind: number): void {
    const { position, target } = this;
    const x = target[0];
    const y = target[1];
    const z = target[2];
    if (this.lengthPending && (kind & MoveFlag.kindMask) !== MoveKind.renamed) this.carryLength();
    const others = this.othersTouched && this.hasOthersMoved();
    this.othersTouched = false;
    if (!others && same(position[0], x) && same(position[1], y) && same(position[2], z)) return;
    if (this.isCompensating) this.takeCompensated(kind, others);
    else {
      this.moves.addTo(target, this.line, kind, this.modesId());
      if (others) this.noteOthers();
    }
    position[0] = x;
    position[1] = y;
    position[2] = z;
  }

  private takeCompensated(kind: number, others: boolean): void {
    this.compensation.take(kind, others);
    this.isCompensating = this.compensation.isNeeded();
    if (others) for (let axis = 3; axis < AXIS_COUNT; axis++) this.position[axis] = this.target[axis];
  }

  /** True if `target` differs from the position in an axis beside X Y Z. */
  hasOthersMoved(): boolean {
    for (let axis = 3; axis < AXIS_COUNT; axis++) {
      if (!same(this.position[axis], this.target[axis])) return true;
    }
    return false;
  }

  private noteOthers(): void {
    this.moves.otherMoves.push(this.moves.count - 1);
    for (let axis = 3; axis < AXIS_COUNT; axis++) {
      this.position[axis] = this.target[axis];
      this.moves.others.push(this.target[axis]);
    }
  }

  private runAfterMotion(): void {
    for (const code of this.afterMotion) {
      if (code === 9) this.set(Mode.coolant, 0);
      else if (code === 5 || code === 19) {
        this.set(Mode.spindle, code);
        if (code === 5) this.give(Given.spindleStopped);
      } else if (code === 2 || code === 30) {
        this.interruptCompensation();
        this.set(Mode.ended, 1);
      }
    }
    this.afterMotion.length = 0;
  }

  /** True if the block has an axis word. */
  hasAxisWord(): boolean {
    return (this.block.present & AXIS_BITS) !== 0;
  }

  /** Index of the first axis word in the order written, −1 none. */
  firstAxisWord(): number {
    for (let i = 0; i < this.block.wordCount; i++) if (AXIS_WORDS.includes(this.block.letters[i])) return i;
    return -1;
  }
}
