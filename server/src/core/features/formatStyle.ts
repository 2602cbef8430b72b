/** How a shop wants its programs to look. What is not asked for stays as it was typed. */

/** The choices of each part of a style, the first is what holds where nothing is said. */
const CHOICES = {
  /** Between words: one space, none, or as typed. */
  spacing: ['space', 'none', 'keep'],
  /** Letters of words: capitals, small, or as typed. */
  letterCase: ['upper', 'lower', 'keep'],
  /** A number below one: as typed, `X0.5`, or `X.5`. */
  leadingZero: ['keep', 'write', 'omit'],
  /** A whole length: as typed, `X10.`, or `X10`. */
  trailingPoint: ['keep', 'write', 'omit'],
  /** Noughts behind the decimals: as typed, or left out (`X10.500` becomes `X10.5`). */
  trailingZeros: ['keep', 'trim'],
  /** Words of a block: as typed, or in the order G, axes, centre, cycle words, F S T H D M. */
  wordOrder: ['keep', 'sort'],
  /** Block numbers, when a whole program is formatted. */
  sequenceNumbers: ['keep', 'add', 'renumber', 'remove'],
} as const;

type Choices = typeof CHOICES;

/** One choice for each part. */
export type FormatStyle = { readonly [Part in keyof Choices]: Choices[Part][number] };

/** Least churn: one space between words, capitals; numbers, order and block numbers as typed. */
export const DEFAULT_STYLE: FormatStyle = {
  spacing: 'space',
  letterCase: 'upper',
  leadingZero: 'keep',
  trailingPoint: 'keep',
  trailingZeros: 'keep',
  wordOrder: 'keep',
  sequenceNumbers: 'keep',
};

/** The parts that cannot change how a block is read: for lines where nothing else may be touched. */
export const plainStyle = (style: FormatStyle): FormatStyle => ({
  ...DEFAULT_STYLE,
  spacing: style.spacing,
  letterCase: style.letterCase,
});

/** A style from what an editor tells; parts that cannot be used are left at what holds otherwise. */
export const formatStyleOf = (told: unknown): FormatStyle => {
  if (typeof told !== 'object' || told === null) return DEFAULT_STYLE;
  const given = told as Record<string, unknown>;
  const usable = Object.entries(CHOICES).filter(([part, choices]) =>
    (choices as readonly unknown[]).includes(given[part]),
  );
  return { ...DEFAULT_STYLE, ...Object.fromEntries(usable.map(([part]) => [part, given[part]])) };
};
