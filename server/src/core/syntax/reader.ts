/**
 * Characters to words: reads one block. Total and tolerant: a mistake costs its own word only, everything else is read.
 * Word-address format after ISO 6983-1 / RS-274-D (from memory); see the design's language page for the details.
 */
import type { ControlProfile } from '../machine/profile.ts';
import { type Block, BlockKind, letterIndex, WordFlag } from './block.ts';
import { isDigit, isWordLetter, SPACE, skipBlanks, skipNumber, TAB, withoutBlanks } from './characters.ts';
import { ExpressionReader, isFunctionCall } from './expression.ts';
import { readFlow } from './flow.ts';
import { isPowerOfTen, spellNumber } from './spelledNumber.ts';
import type { VariableName, Variables } from './variables.ts';

const LF = 10;
const POWERS = Float64Array.from({ length: 23 }, (_, i) => 10 ** i);
const G = letterIndex('G');
const M = letterIndex('M');
const N = letterIndex('N');
const O = letterIndex('O');
/** Letters whose number must be whole and not negative. */
const WHOLE =
  (1 << N) | (1 << O) | (1 << letterIndex('H')) | (1 << letterIndex('D')) | (1 << letterIndex('T')) | (1 << M);

/** Reads blocks under one profile. */
export class BlockReader {
  readonly profile: ControlProfile;
  readonly expressions: ExpressionReader;
  private readonly pending: { name: VariableName; value: number | undefined }[] = [];

  constructor(profile: ControlProfile) {
    this.profile = profile;
    this.expressions = new ExpressionReader(profile);
  }

  /**
   * Reads the block between two offsets of `source` (without its line end) into `block`. Variables are read from and
   * assigned to `variables`; without it their values are unknown and nothing is assigned.
   */
  read(source: string, start: number, end: number, block: Block, variables: Variables | undefined): void {
    block.reset(source, start, end);
    let position = start;
    while (position < end) {
      const c = source.charCodeAt(position);
      const lower = c | 32;
      if (lower >= 97 && lower <= 122 && c < 128) position = this.word(block, position, lower - 97, variables);
      else if (c === SPACE || c === TAB) position++;
      else position = this.other(block, position, c, variables);
    }
    if (this.pending.length > 0) this.assignPending(variables);
  }

  private assignPending(variables: Variables | undefined): void {
    for (const { name, value } of this.pending) variables?.set(name, value);
    this.pending.length = 0;
  }

  /** A word: letter and plain number on the quick way, anything else on the slow one. Returns the offset behind it. */
  private word(block: Block, start: number, letter: number, variables: Variables | undefined): number {
    // No look at the block's end is needed: a line end, or NaN behind the text, stops every loop.
    const source = block.source;
    let p = start + 1;
    let c = source.charCodeAt(p);
    while (c === SPACE || c === TAB) c = source.charCodeAt(++p);
    let sign = 1;
    let flags = 0;
    if (c === 45 || c === 43) {
      if (c === 45) sign = -1;
      flags = WordFlag.signed;
      c = source.charCodeAt(++p);
      while (c === SPACE || c === TAB) c = source.charCodeAt(++p);
    }
    const numberStart = p;
    // Whole numbers of up to nine figures stay in 32 bits; longer ones go the slow way.
    let mantissa = 0;
    while (c >= 48 && c <= 57) {
      mantissa = (mantissa * 10 + c - 48) | 0;
      c = source.charCodeAt(++p);
    }
    let digits = p - numberStart;
    let decimals = 0;
    if (c === 46) {
      flags |= WordFlag.point;
      c = source.charCodeAt(++p);
      const fraction = p;
      while (c >= 48 && c <= 57) {
        mantissa = (mantissa * 10 + c - 48) | 0;
        c = source.charCodeAt(++p);
      }
      decimals = p - fraction;
      digits += decimals;
    }
    const plain = c === LF || (c === SPACE && source.charCodeAt(p + 1) > 57);
    if (digits === 0 || digits > 9 || (!plain && (c === 46 || this.isOddBehind(block, p, c, letter)))) {
      return this.slowWord(block, start, letter, variables);
    }
    const value = decimals === 0 ? mantissa : mantissa / POWERS[decimals];
    const bit = 1 << letter;
    if ((WHOLE & bit) !== 0 || ((block.present & bit) !== 0 && letter !== G)) {
      this.add(block, letter, sign * value, start, p, decimals, flags);
      return p;
    }
    const i = block.wordCount++;
    if (i >= block.letters.length) block.grow();
    block.letters[i] = letter;
    block.values[i] = sign * value;
    block.starts[i] = start;
    block.ends[i] = p;
    block.decimals[i] = decimals;
    block.flags[i] = flags;
    block.present |= bit;
    block.slot[letter] = i;
    if (letter === G) block.codeCount++;
    return c === SPACE ? p + 1 : p;
  }

  /**
   * True where what stands behind a number asks for a closer look: more figures behind spaces, an O where a zero was
   * meant, an E as if for a power of ten.
   */
  private isOddBehind(block: Block, position: number, c: number, letter: number): boolean {
    if (c === SPACE || c === TAB) {
      let p = position + 1;
      let next = p < block.end ? block.source.charCodeAt(p) : -1;
      while (next === SPACE || next === TAB) next = ++p < block.end ? block.source.charCodeAt(p) : -1;
      return (next >= 48 && next <= 57) || next === 46;
    }
    if (c < 65) return c === 36;
    const lower = c | 32;
    return (lower === 111 && letter !== G) || lower === 101 || c === 108 || lower === 103;
  }

  private add(
    block: Block,
    letter: number,
    value: number,
    start: number,
    end: number,
    decimals: number,
    flags: number,
  ): void {
    const bit = 1 << letter;
    if ((WHOLE & bit) !== 0 && (value < 0 || !Number.isInteger(value)) && !Number.isNaN(value)) {
      this.fault(block, 'bad-word', 'number-range', start, end);
      return;
    }
    if (letter === N || letter === O) {
      this.numberWord(block, letter, value, start, end);
      return;
    }
    const i = block.wordCount++;
    if (i >= block.letters.length) block.grow();
    block.letters[i] = letter;
    block.values[i] = value;
    block.starts[i] = start;
    block.ends[i] = end;
    block.decimals[i] = decimals;
    block.flags[i] = flags;
    if ((flags & WordFlag.empty) !== 0) return;
    if (letter === G || letter === M) block.codeCount++;
    else if ((block.present & bit) !== 0 && (block.repeated & bit) === 0 && !this.isRepeatedSet(block, letter)) {
      block.repeated |= bit;
      block.faults.push({
        code: 'word-repeated',
        message: 'repeated',
        start,
        end,
        data: { letter: String.fromCharCode(65 + letter) },
      });
    }
    block.present |= bit;
    block.slot[letter] = i;
  }

  /** True for I J K of a macro call (G65, G66), which may be given in several sets. */
  private isRepeatedSet(block: Block, letter: number): boolean {
    if (letter < 8 || letter > 10 || block.codeCount === 0) return false;
    for (let i = 0; i < block.wordCount; i++) {
      const code = Math.floor(block.values[i]);
      if (block.letters[i] === G && (code === 65 || code === 66)) return true;
    }
    return false;
  }

  private sequenceNumber(block: Block, value: number, start: number, end: number): void {
    block.sequenceNumber = value;
    const limit = this.profile.sequenceNumberMax;
    if (value > limit) this.fault(block, 'bad-word', 'sequence-number-range', start, end, { limit });
  }

  /** N and O stand at the start of a block. */
  private numberWord(block: Block, letter: number, value: number, start: number, end: number): void {
    const first = block.wordCount === 0 && block.flow === undefined;
    if (letter === N) {
      if (first && block.sequenceNumber < 0) this.sequenceNumber(block, value, start, end);
      else this.fault(block, 'bad-word', 'needs-start', start, end, { letter: 'N' });
    } else if (first && block.programNumber < 0 && block.sequenceNumber < 0) block.programNumber = value;
    else this.fault(block, 'bad-word', 'needs-start', start, end, { letter: 'O' });
  }

  private fault(
    block: Block,
    code: 'bad-word' | 'character-set' | 'comment-unclosed' | 'letter-for-digit',
    message: string,
    start: number,
    end: number,
    data: Record<string, string | number> = {},
  ): void {
    block.faults.push({
      code,
      message,
      start,
      end,
      data: { text: block.source.slice(start, Math.min(end, start + 40)), ...data },
    });
  }

  /** Words with spaces inside, expressions, mistakes. */
  private slowWord(block: Block, start: number, letter: number, variables: Variables | undefined): number {
    const source = block.source;
    const end = block.end;
    let p = skipBlanks(source, start + 1, end);
    const c = p < end ? source.charCodeAt(p) : -1;
    if (isWordLetter(c)) {
      const behind = readFlow(this, block, start, variables);
      if (behind > start) return behind;
    }
    const signed = c === 45 || c === 43;
    if (this.isComputed(source, signed ? p + 1 : p, end)) {
      return this.computedWord(block, start, p, letter, variables);
    }
    let signs = 0;
    let negative = false;
    while (p < end && (source.charCodeAt(p) === 45 || source.charCodeAt(p) === 43)) {
      if (source.charCodeAt(p) === 45) negative = !negative;
      signs++;
      p = skipBlanks(source, p + 1, end);
    }
    return this.spelledNumber(block, start, p, letter, signs, negative);
  }

  /** A number character by character: spaces inside, letters that stand for figures, too many points. */
  private spelledNumber(
    block: Block,
    start: number,
    from: number,
    letter: number,
    signs: number,
    negative: boolean,
  ): number {
    const source = block.source;
    const end = block.end;
    const { text, points, last, misread } = spellNumber(source, start, from, end);
    const digits = text.length - points;
    if (misread.length > 0) {
      this.misreadLetters(block, start, last, misread);
      return last;
    }
    if (digits === 0 && points === 0 && signs === 0) {
      this.fault(block, 'bad-word', 'letter-without-number', start, start + 1, { letter: source[start].toUpperCase() });
      return start + 1;
    }
    const number = Number(text);
    if (digits === 0 || points > 1 || signs > 1 || number === Number.POSITIVE_INFINITY) {
      const behind = last > from ? last : withoutBlanks(source, start + 1, from);
      this.fault(block, 'bad-word', 'number-malformed', start, behind);
      return behind;
    }
    if (letter !== 4 && isPowerOfTen(source, last, end)) {
      const behind = skipNumber(source, last + 1, end);
      this.fault(block, 'bad-word', 'number-malformed', start, behind);
      return behind;
    }
    const decimals = points === 0 ? 0 : text.length - 1 - text.indexOf('.');
    const flags = (points > 0 ? WordFlag.point : 0) | (signs > 0 ? WordFlag.signed : 0);
    this.add(block, letter, negative ? -number : number, start, last, decimals, flags);
    return last;
  }

  private misreadLetters(block: Block, start: number, end: number, places: readonly number[]): void {
    const source = block.source;
    let repaired = source.slice(start, end);
    for (const p of places) {
      const at = p - start;
      repaired = `${repaired.slice(0, at)}${(source.charCodeAt(p) | 32) === 111 ? '0' : '1'}${repaired.slice(at + 1)}`;
    }
    for (const p of places) {
      const letter = source[p];
      this.fault(block, 'letter-for-digit', 'letter', p, p + 1, {
        text: source.slice(start, end),
        letter,
        digit: letter.toLowerCase() === 'o' ? '0' : '1',
        word: repaired,
      });
    }
  }

  private isComputed(source: string, from: number, end: number): boolean {
    const p = skipBlanks(source, from, end);
    const c = p < end ? source.charCodeAt(p) : -1;
    return c === 35 || c === 91 || (isWordLetter(c) && isFunctionCall(source, p, end));
  }

  private computedWord(
    block: Block,
    start: number,
    from: number,
    letter: number,
    variables: Variables | undefined,
  ): number {
    const expressions = this.expressions;
    expressions.begin(block.source, from, block.end, variables, block.faults);
    const value = expressions.operand();
    const behind = Math.max(expressions.position, start + 1);
    if (expressions.broken) return behind;
    const flags = WordFlag.computed | (expressions.empty ? WordFlag.empty : 0);
    this.add(block, letter, Number.isFinite(value) ? value : Number.NaN, start, behind, 0, flags);
    return behind;
  }

  /** Everything that does not begin with a letter. */
  private other(block: Block, start: number, c: number, variables: Variables | undefined): number {
    const source = block.source;
    const remarks = this.profile.remarks;
    const begins = block.wordCount === 0 && block.sequenceNumber < 0 && block.programNumber < 0;
    if (c === 40 && remarks.brackets) return this.bracketRemark(block, start);
    if (c === 59 && remarks.semicolon) return this.remark(block, start + 1, block.end, block.end);
    if (c === 47) {
      if (begins && remarks.slashes && source.charCodeAt(start + 1) === 47) {
        return this.remark(block, start + 2, block.end, block.end);
      }
      if (begins && block.deleteLevel === 0) return this.blockDelete(block, start);
      this.fault(block, 'bad-word', 'needs-start', start, start + 1, { letter: '/' });
      return start + 1;
    }
    if (c === 37 && begins && block.flow === undefined) {
      block.kind = BlockKind.tapeMark;
      return block.end;
    }
    if (c === 35) return this.assignment(block, start, variables);
    if (c === 58 && begins) return this.colon(block, start);
    if (c === 0xfeff) return start + 1;
    return this.stray(block, start);
  }

  private bracketRemark(block: Block, start: number): number {
    // Not to the text's end: many brackets left open would each be looked for through the whole program.
    let close = start + 1;
    while (close < block.end && block.source.charCodeAt(close) !== 41) close++;
    if (close === block.end) {
      this.fault(block, 'comment-unclosed', 'unclosed', start, block.end);
      return this.remark(block, start + 1, block.end, block.end);
    }
    return this.remark(block, start + 1, close, close + 1);
  }

  private remark(block: Block, start: number, end: number, behind: number): number {
    block.remarks.push(start, end);
    if (this.profile.characterSet === 'ascii') this.checkCharacters(block, start, end);
    return behind;
  }

  private checkCharacters(block: Block, start: number, end: number): void {
    for (let p = start; p < end; p++) {
      const c = block.source.charCodeAt(p);
      if (c > 126 || (c < 32 && c !== TAB)) {
        this.fault(block, 'character-set', 'outside', p, p + 1, { codepoint: block.source.codePointAt(p) ?? c });
        return;
      }
    }
  }

  private blockDelete(block: Block, start: number): number {
    const next = block.source.charCodeAt(start + 1);
    if (start + 1 < block.end && next >= 49 && next <= 57) {
      block.deleteLevel = next - 48;
      return start + 2;
    }
    block.deleteLevel = 1;
    return start + 1;
  }

  private colon(block: Block, start: number): number {
    const p = skipBlanks(block.source, start + 1, block.end);
    let end = p;
    while (end < block.end && isDigit(block.source.charCodeAt(end))) end++;
    if (end === p) return this.stray(block, start);
    const value = Number(block.source.slice(p, end));
    if (this.profile.colon === 'program-number') block.programNumber = value;
    else this.sequenceNumber(block, value, start, end);
    return end;
  }

  /**
   * `#101 = …`, the right side with or without outer brackets. Without `variables` nothing is assigned, unless
   * `unknownIn` is given: there the value becomes unknown.
   */
  assignment(block: Block, start: number, variables: Variables | undefined, unknownIn?: Variables): number {
    const expressions = this.expressions;
    expressions.begin(block.source, start, block.end, variables, block.faults);
    const name = expressions.variableName();
    const p = skipBlanks(block.source, expressions.position, block.end);
    if (block.source.charCodeAt(p) !== 61 || p >= block.end) {
      const behind = Math.max(expressions.position, start + 1);
      if (!expressions.broken) this.fault(block, 'bad-word', 'expression-malformed', start, behind);
      return behind;
    }
    expressions.position = p + 1;
    const value = expressions.expression();
    const behind = Math.max(expressions.position, p + 1);
    block.assigns = true;
    if (expressions.broken || name === undefined || name === 0) return behind;
    if (unknownIn !== undefined) this.assign(name, Number.NaN, unknownIn);
    else if (variables !== undefined) this.assign(name, expressions.empty ? undefined : value, variables);
    return behind;
  }

  private assign(name: VariableName, value: number | undefined, variables: Variables): void {
    if (this.profile.assignments === 'after-block') this.pending.push({ name, value });
    else variables.set(name, value);
  }

  /** Characters that belong nowhere, as one complaint a run. `$` before a number is an S that slipped. */
  private stray(block: Block, start: number): number {
    const source = block.source;
    const c = source.charCodeAt(start);
    if (c === 36 && start + 1 < block.end && isDigit(source.charCodeAt(start + 1))) {
      const end = skipNumber(source, start + 1, block.end);
      const text = source.slice(start, end);
      this.fault(block, 'letter-for-digit', 'letter', start, start + 1, {
        text,
        letter: '$',
        digit: 'S',
        word: `S${text.slice(1)}`,
      });
      return end;
    }
    const outside = c > 126 || c < 32;
    let end = start + 1;
    while (end < block.end) {
      const next = source.charCodeAt(end);
      const nextOutside = next > 126 || next < 32;
      if (nextOutside !== outside || (!outside && !this.isStray(next))) break;
      if (next === TAB) break;
      end++;
    }
    if (outside) {
      this.fault(block, 'character-set', 'outside', start, end, { codepoint: source.codePointAt(start) ?? c });
      // The number behind a letter that is none belongs to it.
      return skipNumber(source, end, block.end);
    }
    this.fault(block, 'bad-word', 'stray', start, end);
    return end;
  }

  private isStray(c: number): boolean {
    return (
      c > 32 && c < 127 && !isWordLetter(c) && c !== 40 && c !== 59 && c !== 35 && c !== 47 && c !== 36 && c !== 37
    );
  }
}
