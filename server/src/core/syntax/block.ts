/**
 * One block as it was read: parallel arrays that are filled again for every block, so that reading a program makes no
 * object per word. All offsets are UTF-16 offsets into the text that was handed to the reader.
 */

/** What is written in a word beside its letter. Bits of `Block.flags`. */
export const WordFlag = {
  /** The number has a decimal point. */
  point: 1,
  /** The value comes from a variable or an expression. */
  computed: 2,
  /** The value comes from a variable that holds nothing; the word counts as not written. */
  empty: 4,
  /** The word could not be read; its value is not used. */
  bad: 8,
  /** The number has a sign. */
  signed: 16,
} as const;

/** What the block is apart from its words. */
export const BlockKind = {
  words: 0,
  /** `%`, with or without something behind it. */
  tapeMark: 1,
  /** A jump, loop or condition, see `Block.flow`. */
  flow: 2,
} as const;

/** A flow statement of a block; values are NaN where they could not be computed. */
export interface FlowStatement {
  readonly kind: 'if-goto' | 'if-then' | 'while' | 'end' | 'goto';
  /** Offsets of the whole statement. */
  readonly start: number;
  readonly end: number;
  /** The condition's value (1 true, 0 false, NaN unknown); 1 where there is none. */
  readonly condition: number;
  /** The sequence number jumped to, or the loop's number. */
  readonly target: number;
}

/** A complaint of the reader: the code of the rule that words it, where, and the text or value that decides. */
export interface ReadingFault {
  readonly code:
    | 'bad-word'
    | 'comment-unclosed'
    | 'word-repeated'
    | 'character-set'
    | 'letter-for-digit'
    | 'expression-domain'
    | 'parameter-unset'
    | 'not-executed';
  /** Which of the rule's messages. */
  readonly message: string;
  readonly start: number;
  readonly end: number;
  /** Values for the message's placeholders, by name. */
  readonly data: Readonly<Record<string, string | number>>;
}

const FIRST_CAPACITY = 32;

/** Letters are stored by their place in the alphabet: A is 0, Z is 25. */
export const letterIndex = (letter: string): number => letter.charCodeAt(0) - 65;

/** A block's words, remarks and complaints. One instance is reused for a whole program. */
export class Block {
  /** The text the offsets refer to. */
  source = '';
  /** Offset of the block's first character, and of the end without the line end. */
  start = 0;
  end = 0;
  kind: (typeof BlockKind)[keyof typeof BlockKind] = BlockKind.words;
  wordCount = 0;
  /** Letter by place in the alphabet (A 0 … Z 25). */
  letters = new Uint8Array(FIRST_CAPACITY);
  /** The value as written, in the program's units; NaN unknown. */
  values = new Float64Array(FIRST_CAPACITY);
  starts = new Int32Array(FIRST_CAPACITY);
  ends = new Int32Array(FIRST_CAPACITY);
  /** Digits behind the point as written (0 for computed values). */
  decimals = new Uint8Array(FIRST_CAPACITY);
  flags = new Uint8Array(FIRST_CAPACITY);
  /** Bit i is set if a usable word with letter i is in the block (G, M and N among them). */
  present = 0;
  /** Bit i is set if letter i was complained of as repeated. */
  repeated = 0;
  /** Index of the last usable word of each letter; only valid where `present` has the bit. */
  readonly slot = new Int32Array(26);
  /** Number of G and M words. */
  codeCount = 0;
  /** Block delete level: 0 none, 1 for a bare `/`, 2–9. */
  deleteLevel = 0;
  /** The sequence number N, or −1. */
  sequenceNumber = -1;
  /** The program number (O or :), or −1. */
  programNumber = -1;
  /** Remarks: start and end offsets of the text inside, without its brackets, in pairs. */
  readonly remarks: number[] = [];
  flow: FlowStatement | undefined;
  /** True if the block assigns a variable. */
  assigns = false;
  readonly faults: ReadingFault[] = [];

  /** Empties the block for the next reading. */
  reset(source: string, start: number, end: number): void {
    this.source = source;
    this.start = start;
    this.end = end;
    this.kind = BlockKind.words;
    this.wordCount = 0;
    this.present = 0;
    this.repeated = 0;
    this.codeCount = 0;
    this.deleteLevel = 0;
    this.sequenceNumber = -1;
    this.programNumber = -1;
    if (this.remarks.length > 0) this.remarks.length = 0;
    if (this.faults.length > 0) this.faults.length = 0;
    this.flow = undefined;
    this.assigns = false;
  }

  /** Makes room for more words (a line may hold millions). */
  grow(): void {
    const capacity = this.letters.length * 2;
    const widen = <T extends Uint8Array | Int32Array | Float64Array>(from: T, to: T): T => {
      to.set(from as never);
      return to;
    };
    this.letters = widen(this.letters, new Uint8Array(capacity));
    this.values = widen(this.values, new Float64Array(capacity));
    this.starts = widen(this.starts, new Int32Array(capacity));
    this.ends = widen(this.ends, new Int32Array(capacity));
    this.decimals = widen(this.decimals, new Uint8Array(capacity));
    this.flags = widen(this.flags, new Uint8Array(capacity));
  }

  /** True if a usable word with this letter (place in the alphabet) is in the block. */
  has(letter: number): boolean {
    return (this.present & (1 << letter)) !== 0;
  }

  /** The value of the last usable word with this letter, NaN if there is none. */
  value(letter: number): number {
    return this.has(letter) ? this.values[this.slot[letter]] : Number.NaN;
  }

  /** The text of word `index` as written. */
  wordText(index: number): string {
    return this.source.slice(this.starts[index], this.ends[index]);
  }
}
