/** Where subprograms come from that are not in the program's own file. */

/** A subprogram's text; `loading` where it is still to come, `absent` where there is none. */
export type FoundSubprogram = { readonly text: string } | 'loading' | 'absent';

/** Finds the files of subprograms; never outside the folder of the work. */
export interface SubprogramHost {
  /** The file whose O number, or whose name, is `number`. Answers at once. */
  lookup(number: number): FoundSubprogram;
}
