/** What a jump, a loop, a call or a return does, and where it leads. */
import { FactKind } from '../checks/facts.ts';
import type { ProgramUnit } from '../checks/flow/layout.ts';
import { argumentWords, macroCallWord } from '../machine/calls.ts';
import type { ControlProfile } from '../machine/profile.ts';
import type { Block, FlowStatement } from '../syntax/block.ts';
import { letterIndex } from '../syntax/block.ts';
import { passesByJump } from './hoverJumpPasses.ts';
import { type HoverPlace, shortNumber } from './hoverPlace.ts';

const L = letterIndex('L');
const P = letterIndex('P');

/** Sentences on where the block leads; none for blocks that the next one simply follows. */
export function flowSentences(place: HoverPlace): string[] {
  const { block } = place;
  if (!hasContent(block)) return [];
  if (!place.isReached)
    return [place.isCutOff ? 'The run ends before it comes to this block.' : 'The run never comes to this block.'];
  const sentences = block.flow === undefined ? [] : statementSentences(place, block.flow);
  const called = calledProgram(place);
  if (called !== undefined) sentences.push(callSentence(place, called));
  if (place.hasM(99) || place.hasM(17)) sentences.push(returnSentence(place));
  if (block.assigns && place.configuration.profile.systemVariables === 'macro') sentences.push(...stopSentences(place));
  return sentences;
}

/** Says which pass of a loop, or which run of a called program, the numbers are of; '' where there is one only. */
export function passSentence(place: HoverPlace): string {
  if (place.runsStraight || !hasContent(place.block) || !place.isReached) return '';
  const back = passesByJump(place);
  if (back === Number.POSITIVE_INFINITY) return 'The numbers are those of the first pass of several.';
  const passes = back > 0 ? back : passesAround(place);
  if (passes > 1) return `The numbers are those of the first of ${passes} passes.`;
  const runs = runsOfProgram(place, place.layout.unitOf(place.line), 0);
  if (!(runs > 1)) return '';
  const often = Number.isFinite(runs) ? `the first of ${runs} runs` : 'the first run of several';
  return `The numbers are those of ${often} of this program.`;
}

/** More calls than these are not counted one by one. */
const MOST_CALLS = 50;

/** Calls within calls that are counted. */
const DEPTH = 8;

/** How often a program is run by calls; infinite where it is more than once, or may be, and nobody counts. */
function runsOfProgram(place: HoverPlace, unit: ProgramUnit, depth: number): number {
  const { layout, analysis } = place;
  if (unit === layout.units[0] || unit.number < 0) return 1;
  const facts = analysis.programFacts().of(FactKind.callTarget);
  const lines = new Set(facts.filter(({ a, b }) => a === unit.number && b === 0).map(({ line }) => line));
  if (lines.size > MOST_CALLS || depth > DEPTH) return Number.POSITIVE_INFINITY;
  let runs = 0;
  for (const line of lines) {
    if (layout.loops.some(({ head, end }) => head < line && line < end)) return Number.POSITIVE_INFINITY;
    const times = timesOf(analysis.readBlock(line), place.configuration.profile);
    runs += times * runsOfProgram(place, layout.unitOf(line), depth + 1);
  }
  return runs;
}

/** Passes in all of the innermost loop around the block, 0 where it stands in none. */
function passesAround(place: HoverPlace): number {
  if (place.runsStraight) return 0;
  const around = place.layout.loops.filter(({ head, end }) => head < place.line && place.line < end);
  return around.length === 0 ? 0 : place.timesBackAt(around[around.length - 1].head);
}

const hasContent = (block: Block): boolean => block.wordCount > 0 || block.flow !== undefined || block.assigns;

function statementSentences(place: HoverPlace, flow: FlowStatement): string[] {
  const condition = place.escape(conditionText(place));
  switch (flow.kind) {
    case 'goto':
      return [`Goes on ${targetText(place, flow.target)}.`];
    case 'if-goto':
      return [`Where ${condition} holds, goes on ${targetText(place, flow.target)}. ${firstTime(flow)}`];
    case 'if-then':
      return [`Sets the variable only where ${condition} holds. ${firstTime(flow)}`];
    case 'while':
      return [loopSentence(place, condition, flow)];
    default: {
      const loop = place.layout.loopAtEnd(place.line);
      return [loop === undefined ? 'Closes no loop.' : `Back to the head of the loop in ${place.link(loop.head)}.`];
    }
  }
}

/** The condition as written, in brackets. */
function conditionText({ block }: HoverPlace): string {
  const { flow } = block;
  if (flow === undefined) return '';
  const text = block.source.slice(flow.start, flow.end);
  return text.slice(text.indexOf('['), text.lastIndexOf(']', text.search(/GOTO|THEN|DO\s*\d/i)) + 1).trim();
}

const firstTime = ({ condition }: FlowStatement): string =>
  Number.isNaN(condition)
    ? 'Whether it does is not known here.'
    : `The first time it ${condition === 1 ? 'does' : 'does not'}.`;

function loopSentence(place: HoverPlace, condition: string, { condition: value }: FlowStatement): string {
  const loop = place.layout.loopAtHead(place.line);
  if (loop === undefined || loop.end < 0) return 'Begins a loop that no END closes.';
  const [first, last] = [place.line + 2, loop.end];
  const lines =
    last < first ? 'Nothing' : last === first ? `Line ${first} is run` : `Lines ${first} to ${last} are run`;
  const passes = place.timesBackAt(place.line);
  const while_ = condition === '' ? 'again and again' : `as long as ${condition} holds`;
  if (Number.isNaN(value)) return `${lines} ${while_}. Whether it does is not known here: one pass is shown.`;
  if (value !== 1 && passes === 0) return `${lines} ${while_}: the first time it does not, and nothing is run.`;
  return `${lines} ${while_}: ${passes} ${passes === 1 ? 'pass' : 'passes'} in all.`;
}

/** `at N10 in line 5`. */
function targetText(place: HoverPlace, number: number): string {
  if (Number.isNaN(number)) return 'at a number that is not known here';
  const line = place.layout.jumpTarget(number, place.line);
  return line < 0 ? `at N${number}, which this program does not have` : `at N${number} in ${place.link(line)}`;
}

/** The program number that the block calls; undefined where it calls none, NaN where it is not known. */
function calledProgram(place: HoverPlace): number | undefined {
  const { block } = place;
  if (macroCallWord(block) < 0 && !place.hasM(98)) return undefined;
  const number = Math.floor(block.value(P));
  const { subprogramRepeats } = place.configuration.profile;
  return subprogramRepeats === 'first-digits' && !block.has(L) && number > 9999 ? number % 10_000 : number;
}

/** `O100 (line 12)`, `O100 (in a file of its own)`. */
function programText(place: HoverPlace, number: number): string {
  if (Number.isNaN(number)) return 'a program whose number is not known here';
  switch (place.whereIsProgram(number)) {
    case 'here':
      return `O${number} (${place.link(place.layout.unitOfNumber(number)?.firstLine ?? 0)})`;
    case 'file':
      return `O${number} (in a file of its own)`;
    case 'loading':
      return `O${number} (its file is still being read)`;
    default:
      return `O${number} (nowhere to be found)`;
  }
}

function callSentence(place: HoverPlace, number: number): string {
  const { block } = place;
  const given = macroCallWord(block) >= 0 ? argumentText(place) : '';
  if (place.hasG(660)) return `Runs ${programText(place, number)}, after every move from here to G67${given}.`;
  const times = timesOf(block, place.configuration.profile);
  const often = times === 1 ? '' : times === 0 ? ' not at all' : ` ${times} times`;
  return `Runs ${programText(place, number)}${often}${given}.`;
}

/** How often a call runs its program. */
function timesOf(block: Block, { subprogramRepeats }: ControlProfile): number {
  if (block.has(L)) return Math.max(0, Math.floor(block.value(L)));
  const number = Math.floor(block.value(P));
  const inDigits = subprogramRepeats === 'first-digits' && number > 9999;
  return inDigits ? Math.floor(number / 10_000) : 1;
}

/** `, with #24 = 20 (X), #26 = 3 (Z)`. */
function argumentText({ block }: HoverPlace): string {
  const given = argumentWords(block)
    .filter(({ variable }) => variable > 0)
    .map(({ word, variable }) => {
      const value = block.values[word];
      const letter = String.fromCharCode(65 + block.letters[word]);
      return `${letter} \\#${variable} = ${Number.isNaN(value) ? 'not known here' : shortNumber(value, 4)}`;
    });
  return given.length === 0 ? ', with no values' : `, with ${given.join(', ')}`;
}

/** What a word of a call means; undefined for words that mean what they always do. */
export function callWord(place: HoverPlace, index: number): string | undefined {
  const { block } = place;
  const letter = block.letters[index];
  const called = calledProgram(place);
  if (called === undefined) return undefined;
  if (letter === P) return `the program that is called: ${programText(place, called)}`;
  if (letter === L) return `runs it ${shortNumber(block.values[index], 0)} times`;
  const argument = macroCallWord(block) < 0 ? undefined : argumentWords(block).find(({ word }) => word === index);
  if (argument === undefined) return undefined;
  if (argument.variable === 0) return 'gives nothing: this letter is no argument';
  const value = block.values[index];
  return `gives the called program \\#${argument.variable} = ${Number.isNaN(value) ? 'not known here' : shortNumber(value, 6)}`;
}

function returnSentence(place: HoverPlace): string {
  const number = place.block.value(P);
  const unit = place.layout.unitOf(place.line);
  const isMain = unit === place.layout.units[0] && !place.isSubprogramFile;
  if (!Number.isNaN(number)) {
    return isMain
      ? `Goes on ${targetText(place, number)}.`
      : `Back to the program that called, to its block N${number}.`;
  }
  return isMain
    ? 'Begins the program again from its first block.'
    : 'Back to the program that called, behind the call.';
}

/** Values given to #3000 and #3006. */
function stopSentences(place: HoverPlace): string[] {
  const { block } = place;
  const text = block.source.slice(block.start, block.end);
  const found = /#\s*(3000|3006)\s*=\s*\[?\s*(\d*)/.exec(text);
  if (found === null) return [];
  const remark = block.remarks.length < 2 ? '' : block.source.slice(block.remarks[0], block.remarks[1]).trim();
  const says = remark === '' ? '' : `, shown with “${place.escape(remark)}”`;
  return found[1] === '3000'
    ? [`The program’s own alarm ${found[2]}${says}: the machine stops, and the program ends here.`]
    : [`Stops like M0${says}, until the operator goes on.`];
}
