/** The diameter that a remark about a tool states. How remarks are written is common practice, no source. */

import { drillDiameterByName } from './drillSizes.ts';

const NUMBER = '(\\d+(?:\\.\\d*)?|\\.\\d+)';
const MM_OR_INCH = "(MM|INCH|IN|\"|'')";
const diameterWord = `(?:Ø|(?<![A-Z])(?:DIAMETER|DIAM|DIA|D)(?![A-Z]))[ :=]*(?:\\.(?!\\d)[ :=]*)?`;
const afterDiameterWord = new RegExp(`${diameterWord}${NUMBER}(?: ?${MM_OR_INCH}(?![A-Z]))?`);
const beforeDiameterWord = new RegExp(`(?<![\\d.A-Z/])${NUMBER} ?${MM_OR_INCH}? ?(?:Ø|DIA(?:M|METER)?(?![A-Z]))`);
const withUnit = new RegExp(`(?<![\\d.A-Z/])${NUMBER} ?-?${MM_OR_INCH}(?![A-Z])`);
const fraction =
  /(?<![\d./A-Z])(?:([1-9])[ -])?(\d{1,2})\/(2|4|8|16|32|64)(?: ?-?(?:"|''|IN(?:CH)?(?![A-Z])))?(?![\d./])/g;
/** A measure of the part, such as "BORE 30 DIAMETER", is not one of the tool. */
const partMeasure =
  /(?<![A-Z])(?:BORE|BOSS|CIRCLE|PCD|POCKET)[ :=]*(?:Ø|D|DIA)? ?[\d.]+(?: ?(?:MM|IN|"))?(?: DIA(?:METER)?)?(?![A-Z])/g;
const countOfPages = /(?<!\w)(?:OP|PAGE|SIDE|STEP|SETUP) ?\d+\/\d+/g;
const numberedDrill = /(?:#|(?<![A-Z])(?:NO|NUMBER)[ .]+)(\d{1,2})(?![\d./])/;
const letteredDrill = /(?<![A-Z])LETTER ([A-Z])(?![A-Z])|(?<![A-Z#])([A-Z]) (?:LETTER )?(?:SIZE )?DRILL(?![A-Z])/;

const drillWord = /(?<![A-Z])DRILLS?(?![A-Z])/;

/** Numbers that are something else than the diameter: tool, offsets, teeth, angles, radii, lengths, counts. */
const otherNumbers =
  /(?<![A-Z])(?:CR|LOC|OAL|DEPTH|DEEP|LENGTH|LG|TOOL|OP|STEP|SIDE|HOLE|PAGE|[THRSFMGZLQN])[ .:=#]*-?(?:\d+(?:\.\d*)?|\.\d+)(?: ?MM| ?IN(?![A-Z])|")?|(?<![\d.])(?:\d+(?:\.\d*)?|\.\d+) ?-?(?:MM |IN |")?(?:DEG\w*|GRAD|°|º|FLUTED?S?|FLT?S?|F(?![A-Z])|TEETH|TOOTH|INSERTS?|HOLES?|PLACES|PLCS?|OFF|TIMES|WIDE|THICK|HIGH|APART|DEEP(?! ?\d)|LONG(?! ?\d)|X(?![A-Z]))/g;
const adjectives =
  /(?<![A-Z])(?:SOLID|CARBIDE|HSS|HSSE|COBALT|FLAT|SQUARE|STUB|LONG|SHORT|JOBBER|TWIST|ROUGH(?:ING)?|FINISH(?:ING)?|TAP|TAPER(?:ED)?|CLEARANCE|SPOT|FACE|END|CENT(?:ER|RE)|RH|LH|COATED|VHM|UNCOATED)(?![A-Z])/g;
const anyTool =
  '(?:DRILL|DRILLS|MILL|ENDMILL|EM|REAMER|REAM|NOSED?|CUTTER|TAP|BAR|CHAMFER|COUNTERSINK|CSK|\\w*BOHRER|\\w*FRAE?SER|REIBAHLE|SENKER|FORET|FRAISE|FRESA|BROCA|PUNTA|BALL)';
const beforeTool = new RegExp(`(?<![\\d.A-Z/#])${NUMBER} *${anyTool}(?![A-Z])`);
const afterTool = new RegExp(`(?<![A-Z])${anyTool}[ :=]*${NUMBER}(?![\\d./A-Z]| *[A-Z]*/)`);

/** The diameter in millimetres that a remark in capitals states, or undefined. A fraction is of an inch, always. */
export function diameterIn(capitals: string, unitsInch: boolean): number | undefined {
  const written = capitals.replace(countOfPages, ' , ').replace(partMeasure, ' , ').replace(fraction, fractionAsInches);
  const millimetres = (match: RegExpExecArray): number | undefined => {
    const [, value, unit] = match;
    const inch = unit === undefined ? unitsInch : unit !== 'MM';
    return saneDiameter(Number(value) * (inch ? 25.4 : 1));
  };
  const hasOffsets = /(?<![A-Z])H ?\d/.test(written);
  const named = (hasOffsets ? null : afterDiameterWord.exec(written)) ?? beforeDiameterWord.exec(written);
  if (named) return millimetres(named);
  const text = written.replace(otherNumbers, ' ').replace(/ {2,}/g, ' ');
  const measured = withUnit.exec(text);
  if (measured) return millimetres(measured);
  const byName = drillByName(text);
  if (byName !== undefined) return byName;
  const plain = text.replace(adjectives, '').replace(/ {2,}/g, ' ');
  const beside = beforeTool.exec(plain) ?? afterTool.exec(plain) ?? onlyDecimal(plain);
  return beside ? millimetres(beside) : undefined;
}

function fractionAsInches(_match: string, whole: string | undefined, above: string, below: string): string {
  return `${Number(whole ?? 0) + Number(above) / Number(below)}"`;
}

function drillByName(text: string): number | undefined {
  const match = numberedDrill.exec(text) ?? letteredDrill.exec(text);
  const name = match?.[1] ?? match?.[2];
  return name !== undefined && drillWord.test(text) ? saneDiameter(drillDiameterByName(name) ?? 0) : undefined;
}

/** The only number left, where it is written with a point. */
function onlyDecimal(text: string): RegExpExecArray | undefined {
  const numbers = [...text.matchAll(new RegExp(NUMBER, 'g'))];
  const only = numbers.length === 1 ? numbers[0] : undefined;
  return only?.[0].includes('.') ? only : undefined;
}

function saneDiameter(diameter: number): number | undefined {
  return diameter > 0 && diameter <= 500 ? Math.round(diameter * 1e6) / 1e6 : undefined;
}
