/** The register of all rules, in the order of the README's table. One file a rule under `rules/`. */
import type { Rule } from './rule.ts';

/** All rules. */
export const RULES: readonly Rule[] = [];
