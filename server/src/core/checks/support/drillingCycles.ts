/** Cycles (G number × 10) that leave the hole at rapid. */
export const LEAVES_AT_RAPID: readonly number[] = [730, 760, 810, 820, 830, 860];
