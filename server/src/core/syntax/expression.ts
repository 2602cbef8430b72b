/**
 * Expressions in square brackets, variables and functions, read and computed in one go from the text. Total: a mistake
 * is reported at its place and the value becomes unknown (NaN). Angles are degrees.
 * Operators, functions and their order of binding after NIST IR 6556 and macro controls (from memory).
 */
import type { ControlProfile } from '../machine/profile.ts';
import type { ReadingFault } from './block.ts';
import { isDigit, isWordLetter } from './characters.ts';
import type { VariableName, Variables } from './variables.ts';

type Operator = '+' | '-' | '*' | '/' | '**' | 'MOD' | 'AND' | 'OR' | 'XOR' | 'EQ' | 'NE' | 'GT' | 'GE' | 'LT' | 'LE';

const WORD_OPERATORS: readonly Operator[] = ['MOD', 'AND', 'XOR', 'OR', 'EQ', 'NE', 'GT', 'GE', 'LT', 'LE'];
const FUNCTIONS = [
  'SIN',
  'COS',
  'TAN',
  'ASIN',
  'ACOS',
  'ATAN',
  'SQRT',
  'ABS',
  'ROUND',
  'FIX',
  'FUP',
  'LN',
  'EXP',
] as const;
type FunctionName = (typeof FUNCTIONS)[number];

const MAX_DEPTH = 60;
/** More letters than this are no function's name, however mistyped. */
const LONGEST_NAME = 12;
const DEGREE = Math.PI / 180;

/** From here on controls keep a variable's value when they are switched off: what it holds is the operator's or another program's. Common practice, no source. */
const FIRST_KEPT = 500;
/** #0, the variable that is always empty, with brackets and blanks around it. */
const EMPTY_OPERAND = /^[\s[]*#\s*0+[\s\]]*$/;

const isBlank = (c: number): boolean => c === 32 || c === 9;

/** Sine of an angle in degrees, exact at whole quarter turns. */
const sine = (degrees: number): number => {
  const quarter = degrees / 90;
  if (Number.isInteger(quarter)) return [0, 1, 0, -1][((quarter % 4) + 4) % 4];
  return Math.sin(degrees * DEGREE);
};

/** True if letters from `from` on, up to a bracket, can only be the call of a function (known or not). */
export const isFunctionCall = (source: string, from: number, end: number): boolean => {
  const most = Math.min(end, from + LONGEST_NAME);
  let p = from;
  while (p < most && isWordLetter(source.charCodeAt(p))) p++;
  if (p === from || p >= end || source.charCodeAt(p) !== 91) return false;
  return p - from > 2 || source.slice(from, p).toUpperCase() === 'LN';
};

/** Reads and computes expressions. One instance serves a whole program. */
export class ExpressionReader {
  /** Offset behind what was read. */
  position = 0;
  /** True if the last value read is a variable that holds nothing. */
  empty = false;
  private source = '';
  private end = 0;
  private depth = 0;
  private failed = false;
  private variables: Variables | undefined;
  private faults: ReadingFault[] = [];
  private readonly profile: ControlProfile;

  constructor(profile: ControlProfile) {
    this.profile = profile;
  }

  /** Prepares reading in `source` up to `end`; without variables every variable is unknown. */
  begin(source: string, position: number, end: number, variables: Variables | undefined, faults: ReadingFault[]): void {
    this.source = source;
    this.position = position;
    this.end = end;
    this.variables = variables;
    this.faults = faults;
    this.depth = 0;
    this.failed = false;
    this.empty = false;
  }

  /** True if what was read since `begin` had a mistake in writing. */
  get broken(): boolean {
    return this.failed;
  }

  /** A value behind a word's letter or an equals sign's single operand: number, variable, function or brackets. */
  operand(): number {
    this.empty = false;
    const c = this.peek();
    if (c === 45 || c === 43) return this.signed();
    if (c === 91) return this.brackets();
    if (c === 35) {
      const start = this.position;
      return this.read(this.variableName(), start);
    }
    if (isDigit(c) || c === 46) return this.number();
    if (isWordLetter(c)) return this.callFunction();
    return this.fail('expression-malformed', this.position, Math.min(this.position + 1, this.end));
  }

  /** An operand behind any number of signs. */
  private signed(): number {
    let negative = false;
    let c = this.peek();
    while (c === 45 || c === 43) {
      if (c === 45) negative = !negative;
      this.position++;
      c = this.peek();
    }
    const value = this.operand();
    this.empty = false;
    return negative ? -value : value;
  }

  /** A whole expression without its outer brackets, up to what cannot belong to it. */
  expression(): number {
    return this.binary(0);
  }

  /** The name of a variable at `#`; undefined if it cannot be known. */
  variableName(): VariableName | undefined {
    const start = this.position;
    this.position++;
    const c = this.peek();
    if (c === 60) {
      const close = this.find(62);
      if (close < 0) {
        this.position = this.end;
        this.fail('expression-malformed', start, this.end);
        return undefined;
      }
      const name = this.source
        .slice(this.position + 1, close)
        .replace(/[ \t]/g, '')
        .toLowerCase();
      this.position = close + 1;
      return name;
    }
    if (++this.depth > MAX_DEPTH) {
      this.depth--;
      this.fail('expression-malformed', start, this.end);
      this.position = this.end;
      return undefined;
    }
    const value =
      isDigit(c) || c === 35 || c === 91 ? this.operand() : this.fail('expression-malformed', start, this.position);
    this.depth--;
    this.empty = false;
    return Number.isNaN(value) ? undefined : Math.round(value);
  }

  private read(name: VariableName | undefined, start: number): number {
    if (name === undefined || this.variables === undefined) return Number.NaN;
    const value = this.variables.get(name);
    if (value !== undefined) return value;
    // System variables (4 figures and more) are the control's, not this program's: unknown.
    if (typeof name === 'number' && name >= (this.profile.unsetVariable === 'zero' ? 1000 : FIRST_KEPT))
      return Number.NaN;
    this.complainUnset(name, start);
    if (this.profile.unsetVariable === 'zero') return 0;
    this.empty = true;
    return 0;
  }

  /** An own variable of the program that nothing set: #1 to #33 and named ones. #0 is empty by name. */
  private complainUnset(name: VariableName, start: number): void {
    if (typeof name === 'number' && (name === 0 || name > 33 || this.profile.unsetVariable === 'zero')) return;
    const data = { name: typeof name === 'number' ? `#${name}` : `#<${name}>` };
    const end = start + this.source.slice(start, this.position).trimEnd().length;
    this.faults.push({ code: 'parameter-unset', message: 'unset', start, end, data });
  }

  /** A comparison with #0 asks whether a variable was set: the complaints from `first` on that it was not are taken back. */
  private forgiveTest(operator: Operator, first: number, left: string, right: string): void {
    if (operator !== 'EQ' && operator !== 'NE') return;
    if (!EMPTY_OPERAND.test(left) && !EMPTY_OPERAND.test(right)) return;
    for (let i = this.faults.length - 1; i >= first; i--) {
      if (this.faults[i].code === 'parameter-unset') this.faults.splice(i, 1);
    }
  }

  /** Offset of a character from here to the block's end, −1 without. */
  private find(character: number): number {
    for (let p = this.position; p < this.end; p++) if (this.source.charCodeAt(p) === character) return p;
    return -1;
  }

  private peek(): number {
    while (this.position < this.end) {
      const c = this.source.charCodeAt(this.position);
      if (c !== 32 && c !== 9) return c;
      this.position++;
    }
    return -1;
  }

  private fail(message: string, from: number, to: number): number {
    let end = Math.max(to, from);
    while (end > from + 1 && isBlank(this.source.charCodeAt(end - 1))) end--;
    const start = end > from ? from : Math.max(from - 1, 0);
    if (!this.failed) {
      this.faults.push({ code: 'bad-word', message, start, end, data: { text: this.source.slice(start, end) } });
    }
    this.failed = true;
    return Number.NaN;
  }

  private domain(message: string, start: number, value: number): number {
    this.faults.push({ code: 'expression-domain', message, start, end: this.position, data: { value } });
    return Number.NaN;
  }

  private number(): number {
    const start = this.position;
    let points = 0;
    let digits = 0;
    let text = '';
    for (;;) {
      const c = this.peek();
      if (c === 46) points++;
      else if (isDigit(c)) digits++;
      else break;
      text += this.source[this.position];
      this.position++;
    }
    const value = Number(text);
    if (points > 1 || digits === 0 || value === Number.POSITIVE_INFINITY || this.isPowerOfTen()) {
      return this.fail('number-malformed', start, this.position);
    }
    return value;
  }

  /** True at an E as if for a power of ten, which is then passed. */
  private isPowerOfTen(): boolean {
    if ((this.source.charCodeAt(this.position) | 32) !== 101) return false;
    let p = this.position + 1;
    const c = this.source.charCodeAt(p);
    if (c === 45 || c === 43) p++;
    if (p >= this.end || !isDigit(this.source.charCodeAt(p))) return false;
    while (p < this.end && isDigit(this.source.charCodeAt(p))) p++;
    this.position = p;
    return true;
  }

  private brackets(): number {
    const start = this.position;
    this.position++;
    if (++this.depth > MAX_DEPTH) {
      this.position = this.end;
      this.depth--;
      return this.fail('expression-malformed', start, this.end);
    }
    const value = this.binary(0);
    this.depth--;
    this.empty = false;
    if (this.failed) this.skipToClose();
    else if (this.peek() !== 93) return this.fail('bracket-missing', start, Math.max(start + 1, this.position));
    else this.position++;
    return value;
  }

  /** After a mistake: behind the bracket that closes the one being read. */
  private skipToClose(): void {
    let open = 1;
    while (this.position < this.end && open > 0) {
      const c = this.source.charCodeAt(this.position);
      if (c === 91) open++;
      else if (c === 93) open--;
      else if (c === 40 || c === 59) return;
      this.position++;
    }
  }

  private callFunction(): number {
    const start = this.position;
    let name = '';
    while (isWordLetter(this.peek())) name += this.source[this.position++].toUpperCase();
    if (!FUNCTIONS.includes(name as FunctionName) || this.peek() !== 91) {
      const end = this.position;
      this.fail('unknown-function', start, end);
      if (this.peek() === 91) {
        this.position++;
        this.skipToClose();
      }
      return Number.NaN;
    }
    const value = this.brackets();
    if (name === 'ATAN') return this.arcTangent(value);
    return Number.isNaN(value) ? value : this.apply(name as FunctionName, value, start);
  }

  private arcTangent(first: number): number {
    if (this.peek() !== 47) return Math.atan(first) / DEGREE;
    this.position++;
    if (this.peek() !== 91)
      return this.fail('expression-malformed', this.position, Math.min(this.position + 1, this.end));
    return Math.atan2(first, this.brackets()) / DEGREE;
  }

  private apply(name: FunctionName, value: number, start: number): number {
    switch (name) {
      case 'SIN':
        return sine(value);
      case 'COS':
        return sine(value + 90);
      case 'TAN':
        return Number.isInteger(value / 90) && !Number.isInteger(value / 180)
          ? this.domain('zero-division', start, value)
          : Math.tan(value * DEGREE);
      case 'ASIN':
        return Math.abs(value) > 1 ? this.domain('asin', start, value) : Math.asin(value) / DEGREE;
      case 'ACOS':
        return Math.abs(value) > 1 ? this.domain('acos', start, value) : Math.acos(value) / DEGREE;
      case 'SQRT':
        return value < 0 ? this.domain('sqrt', start, value) : Math.sqrt(value);
      case 'ABS':
        return Math.abs(value);
      case 'ROUND':
        return Math.sign(value) * Math.round(Math.abs(value));
      case 'FIX':
        return this.profile.rounding === 'floor-ceiling' ? Math.floor(value) : Math.trunc(value);
      case 'FUP':
        return this.profile.rounding === 'floor-ceiling'
          ? Math.ceil(value)
          : Math.sign(value) * Math.ceil(Math.abs(value));
      case 'LN':
        return value <= 0 ? this.domain('ln', start, value) : Math.log(value);
      default:
        return Math.exp(value);
    }
  }

  private binary(level: number): number {
    if (level > 4) return this.operand();
    const start = this.position;
    const faultsBefore = this.faults.length;
    let left = this.binary(level + 1);
    let leftEmpty = this.empty;
    for (;;) {
      const before = this.position;
      const operator = this.operatorAt(level);
      if (operator === undefined) {
        this.position = before;
        this.empty = leftEmpty;
        return left;
      }
      const behindOperator = this.position;
      const right = this.binary(level + 1);
      if (this.faults.length > faultsBefore) {
        const [first, second] = [this.source.slice(start, before), this.source.slice(behindOperator, this.position)];
        this.forgiveTest(operator, faultsBefore, first, second);
      }
      left = this.combine(operator, left, leftEmpty, right, this.empty, start);
      leftEmpty = false;
    }
  }

  /** Levels, loosest first: comparison; OR XOR (and AND by profile, with + − below them); + −; * / MOD (AND); **. */
  private levelOf(operator: Operator): number {
    switch (operator) {
      case 'EQ':
      case 'NE':
      case 'GT':
      case 'GE':
      case 'LT':
      case 'LE':
        return 0;
      case 'OR':
      case 'XOR':
      case '+':
      case '-':
        return 2;
      case 'AND':
        return this.profile.andBinds === 'product' ? 3 : 2;
      case '**':
        return 4;
      default:
        return 3;
    }
  }

  private operatorAt(level: number): Operator | undefined {
    const c = this.peek();
    let operator: Operator | undefined;
    let length = 1;
    if (c === 43) operator = '+';
    else if (c === 45) operator = '-';
    else if (c === 47) operator = '/';
    else if (c === 42) {
      operator = this.source.charCodeAt(this.position + 1) === 42 ? '**' : '*';
      length = operator.length;
    } else if (isWordLetter(c)) {
      const text = this.source.slice(this.position, this.position + 3).toUpperCase();
      operator = WORD_OPERATORS.find((name) => text.startsWith(name));
      length = operator?.length ?? 0;
    }
    if (operator === undefined || this.levelOf(operator) !== level) return undefined;
    if (this.position + length > this.end) return undefined;
    this.position += length;
    return operator;
  }

  private combine(operator: Operator, a: number, aEmpty: boolean, b: number, bEmpty: boolean, start: number): number {
    const truth = (value: boolean): number => (Number.isNaN(a) || Number.isNaN(b) ? Number.NaN : value ? 1 : 0);
    switch (operator) {
      case '+':
        return a + b;
      case '-':
        return a - b;
      case '*':
        return a * b;
      case '/':
        return b === 0 ? this.domain('zero-division', start, a) : a / b;
      case 'MOD':
        return b === 0 ? this.domain('zero-division', start, a) : a - b * Math.floor(a / b);
      case '**': {
        const power = a ** b;
        return Number.isNaN(power) && !Number.isNaN(a) && !Number.isNaN(b) ? this.domain('power', start, a) : power;
      }
      case 'AND':
        return truth(a !== 0 && b !== 0);
      case 'OR':
        return truth(a !== 0 || b !== 0);
      case 'XOR':
        return truth((a !== 0) !== (b !== 0));
      case 'EQ':
        return truth(aEmpty === bEmpty && a === b);
      case 'NE':
        return truth(aEmpty !== bEmpty || a !== b);
      case 'GT':
        return truth(a > b);
      case 'GE':
        return truth(a >= b);
      case 'LT':
        return truth(a < b);
      default:
        return truth(a <= b);
    }
  }
}
