/** What the schema of the shop's file cannot see: names that lead nowhere, ends that lie the wrong way round. */
import type { Node } from 'jsonc-parser';
import { parseThread } from '../reference/threadName.ts';
import { nodeAt, propertiesOf, rangeOf } from './configurationText.ts';
import { quotedText, type SchemaProblem } from './jsonSchema.ts';
import { offsetName, offsetNumber } from './machinePosition.ts';
import { patternProblem } from './programPatterns.ts';

const problemAt = (node: Node, message: string): SchemaProblem => ({ message, ...rangeOf(node) });

/** Everything else that is wrong with a file, in no order. What breaks the schema is passed over. */
export function contentProblems(tree: Node): SchemaProblem[] {
  const materials = propertiesOf(nodeAt(tree, 'materials'));
  return [
    ...machineProblems(nodeAt(tree, 'machine')),
    ...materials.flatMap(([, material]) => speedProblems(material)),
    ...sectionProblems(tree, materials),
    ...propertiesOf(nodeAt(tree, 'programs')).flatMap(([pattern, section]) => {
      const wrong = patternProblem(pattern.value);
      return [...(wrong === undefined ? [] : [problemAt(pattern, wrong)]), ...sectionProblems(section, materials)];
    }),
  ];
}

/** Of what stands in the file itself and in each of its `programs`. */
function sectionProblems(section: Node, materials: ReturnType<typeof propertiesOf>): SchemaProblem[] {
  return [
    ...toolTableProblems(nodeAt(section, 'tools')),
    ...stockProblems(nodeAt(section, 'stock')),
    ...materialProblems(nodeAt(section, 'material', 'string'), materials),
  ];
}

function materialProblems(name: Node | undefined, materials: ReturnType<typeof propertiesOf>): SchemaProblem[] {
  const known: string[] = materials.map(([key]) => key.value);
  if (name === undefined || known.includes(name.value)) return [];
  const names = known.map(quotedText).join(', ');
  const help = known.length > 0 && known.length <= 5 ? ` It has ${names}.` : ' Add it there.';
  return [problemAt(name, `${quotedText(name.value)} is not in "materials".${help}`)];
}

/** The numbers of a list; none where something else stands in it. */
const numbersOf = (list: Node | undefined): readonly Node[] => {
  const items = list?.type === 'array' ? (list.children ?? []) : [];
  return items.every((item) => item.type === 'number') ? items : [];
};

const numbersAt = (group: Node, key: string): readonly Node[] => numbersOf(nodeAt(group, key));

const numberAt = (group: Node, key: string): number | undefined => nodeAt(group, key, 'number')?.value;

/** Tools that are there twice, and measures of a tool that do not go together. */
function toolTableProblems(table: Node | undefined): SchemaProblem[] {
  const problems: SchemaProblem[] = [];
  const seen = new Set<number>();
  for (const row of table?.type === 'array' ? (table.children ?? []) : []) {
    const number = nodeAt(row, 'number', 'number');
    if (number && seen.has(number.value)) {
      problems.push(problemAt(number, `Tool ${number.value} is in the table twice; give each number once.`));
    }
    if (number) seen.add(number.value);
    problems.push(...toolProblems(row));
  }
  return problems;
}

function toolProblems(row: Node): SchemaProblem[] {
  const problems: SchemaProblem[] = [];
  const thread = nodeAt(row, 'thread', 'string');
  if (thread && parseThread(thread.value) === undefined) {
    const message = `${quotedText(thread.value)} is no thread that is known here. Write it as M6, M6x0.75, 1/4-20 UNC or G1/4.`;
    problems.push(problemAt(thread, message));
  }
  const atMost = (key: string, limit: number | undefined, words: string) => {
    const node = nodeAt(row, key, 'number');
    if (node && limit !== undefined && node.value > limit) {
      problems.push(problemAt(node, `"${key}" is ${node.value}; it cannot be more than ${words} (${limit}).`));
    }
  };
  const diameter = numberAt(row, 'diameter');
  atMost('cornerRadius', diameter === undefined ? undefined : diameter / 2, 'half the diameter');
  atMost('tip', diameter, 'the diameter');
  atMost('fluteLength', numberAt(row, 'length'), 'the length');
  return problems;
}

const OWN_KEYS = { box: ['min', 'max'], cylinder: ['diameter', 'centre', 'top', 'bottom'] } as const;

function stockProblems(stock: Node | undefined): SchemaProblem[] {
  const shape: unknown = nodeAt(stock, 'shape')?.value;
  if (stock === undefined || (shape !== 'box' && shape !== 'cylinder')) return [];
  const problems: SchemaProblem[] = [];
  const missing = OWN_KEYS[shape].filter((key) => nodeAt(stock, key) === undefined);
  if (missing.length > 0) {
    problems.push(problemAt(stock, `A ${shape} needs ${missing.map((key) => `"${key}"`).join(', ')}.`));
  }
  for (const key of OWN_KEYS[shape === 'box' ? 'cylinder' : 'box']) {
    const node = nodeAt(stock, key);
    if (node) problems.push(problemAt(node, `A ${shape} has no "${key}".`));
  }
  const offset = nodeAt(stock, 'offset', 'string');
  if (offset && offsetNumber(offset.value) < 0) {
    const message = `${quotedText(offset.value)} is no work offset. Write G54 to G59, G59.1 to G59.3, or G54.1 P1 and up.`;
    problems.push(problemAt(offset, message));
  }
  return [...problems, ...(shape === 'box' ? boxProblems(stock) : cylinderProblems(stock))];
}

function boxProblems(stock: Node): SchemaProblem[] {
  const min = numbersAt(stock, 'min');
  const max = numbersAt(stock, 'max');
  return [0, 1, 2].flatMap((axis) => {
    if (!min[axis] || !max[axis] || min[axis].value < max[axis].value) return [];
    const words = `${'XYZ'[axis]} of "min" is ${min[axis].value}, of "max" ${max[axis].value}; it must be less.`;
    return [problemAt(min[axis], words)];
  });
}

function cylinderProblems(stock: Node): SchemaProblem[] {
  const top = nodeAt(stock, 'top', 'number');
  const bottom = nodeAt(stock, 'bottom', 'number');
  if (!top || !bottom || bottom.value < top.value) return [];
  return [problemAt(bottom, `"bottom" is ${bottom.value}, "top" ${top.value}; the bottom must lie lower.`)];
}

function machineProblems(machine: Node | undefined): SchemaProblem[] {
  const problems: SchemaProblem[] = [];
  for (const [letter, axis] of propertiesOf(nodeAt(machine, 'axes'))) {
    const min = nodeAt(axis, 'min', 'number');
    const max = nodeAt(axis, 'max', 'number');
    if (!min || !max || min.value < max.value) continue;
    problems.push(problemAt(min, `"min" of ${letter.value} is ${min.value}, "max" ${max.value}; it must be less.`));
  }
  const seen = new Set<number>();
  for (const [name] of propertiesOf(nodeAt(machine, 'workOffsets'))) {
    const number = offsetNumber(name.value);
    if (number < 0) continue;
    if (seen.has(number)) {
      problems.push(problemAt(name, `${offsetName(number)} is given twice; only one of them can hold.`));
    }
    seen.add(number);
  }
  return problems;
}

function speedProblems(material: Node): SchemaProblem[] {
  return propertiesOf(nodeAt(material, 'cuttingSpeed')).flatMap(([, range]) => {
    const [lowest, highest] = numbersOf(range);
    if (!lowest || !highest || lowest.value <= highest.value) return [];
    return [problemAt(range, `The lowest speed (${lowest.value}) stands first, then the highest (${highest.value}).`)];
  });
}
