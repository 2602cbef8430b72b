import { describe, expect, it } from 'vitest';
import { contextAlone, contextAt } from '../blocks/context.ts';
import { blockByName } from '../blocks/registry.ts';
import { Analysis } from '../checks/analysis.ts';
import { DEFAULT_CONFIGURATION } from '../machine/configuration.ts';
import { materialGroup } from '../reference/materials.ts';
import { blockForm, type FormResult, formResult } from './blockForm.ts';
import { MATERIALS } from './blockFormHints.ts';

const alone = contextAlone(DEFAULT_CONFIGURATION);
const inches = { ...alone, entry: { ...alone.entry, units: 'inch' as const } };

const filled = (name: string, typed: Readonly<Record<string, string>>, context = alone): FormResult =>
  formResult(blockByName(name)!, { typed, kept: {}, isRevised: false }, context);
const asked = ({ problems }: FormResult): (string | undefined)[] => problems.map(({ parameter }) => parameter);

const TAPPED = {
  operations: 'spot,drill,tap',
  'spot.tool-number': '1',
  'drill.tool-number': '2',
  'tap.tool-number': '3',
  'tap.holder': 'synchronised',
  material: 'steel',
};
const M5 = { ...TAPPED, 'tap.thread': 'M5', 'tap.depth': '10' };

describe('values that are taken where a field is empty', () => {
  it('gives drill and depth by the thread, and says so', () => {
    const { taken, lines, problems } = filled('holes', M5);
    expect(problems).toEqual([]);
    expect(taken['drill.diameter']).toEqual({ value: '4.2', from: 'from the thread M5' });
    expect(taken['drill.depth'].from).toBe('from the thread M5');
    expect(taken['tap.hole']).toEqual({ value: 'blind', from: 'as the drill' });
    // The same block comes from these values as typed.
    const typed = { ...M5, 'drill.diameter': '4.2', 'drill.depth': taken['drill.depth'].value };
    const again = filled('holes', typed);
    const body = (all: FormResult['lines']): string[] => (all ?? []).filter((line) => /^[GMST]/.test(line));
    expect(body(again.lines).length).toBeGreaterThan(10);
    expect(body(again.lines)).toEqual(body(lines));
    expect(again.taken['drill.diameter']).toBeUndefined();
  });

  it('asks only for the thread where drill and depth follow from it', () => {
    const { taken, ...result } = filled('holes', { ...TAPPED, 'tap.thread': 'M5' });
    expect(asked(result as FormResult)).toEqual(['tap.depth']);
    expect(taken['drill.diameter'].value).toBe('4.2');
    expect(taken['drill.depth']).toEqual({ value: '', from: 'from the thread M5' });
    expect(asked(filled('holes', TAPPED))).toEqual(['tap.thread', 'tap.depth']);
    expect(asked(filled('holes', { operations: 'drill', material: 'steel' }))).toEqual([
      'drill.diameter',
      'drill.depth',
    ]);
  });

  it('shows what is known while the holder of the tap is not, as of a synchronised one', () => {
    const { 'tap.holder': _, ...withoutHolder } = M5;
    const { taken, lines, ...result } = filled('holes', withoutHolder);
    const whole = filled('holes', M5).taken;
    expect(lines).toBeUndefined();
    expect(asked(result as FormResult)).toEqual(['tap.holder']);
    expect(Number(whole['drill.depth'].value)).toBeGreaterThan(10);
    expect(taken['drill.depth']).toEqual({
      value: whole['drill.depth'].value,
      from: 'from the thread M5, more with a float',
    });
    for (const name of ['spot.diameter', 'drill.speed', 'tap.speed']) expect(taken[name], name).toEqual(whole[name]);
    // Nothing of that counts as computed.
    expect(result.facts.some(({ name }) => name === 'tap.feed')).toBe(false);
    expect(filled('tapping', { thread: 'M5', depth: '10', material: 'steel' }).taken.speed).toEqual(whole['tap.speed']);
  });

  it('says the angle of the spot, the peck and the breakout', () => {
    const spotted = (values: Readonly<Record<string, string>>): FormResult =>
      filled('holes', { ...TAPPED, operations: 'spot,drill', 'drill.diameter': '5', ...values });
    const { taken, notes } = spotted({ 'drill.depth': '40' });
    expect(taken['spot.angle']).toEqual({ value: '120', from: '' });
    expect(taken['drill.peck']).toEqual({ value: '2.5', from: 'by depth and diameter' });
    expect(taken['drill.breakout']).toBeUndefined();
    expect(notes['drill.breakout']).toBe('for through holes only');
    const short = spotted({ 'drill.depth': '10', 'drill.through': 'yes', 'drill.angle': '140' });
    expect(short.taken['spot.angle'].value).toBe('142');
    expect(short.taken['drill.peck']).toEqual({ value: '0', from: 'in one go' });
    expect(short.taken['drill.breakout'].value).toBe('0.5');
    expect(short.notes['drill.breakout']).toBeUndefined();
    expect(spotted({ 'drill.depth': '40', 'drill.peck': '3' }).taken['drill.peck']).toBeUndefined();
  });

  it('says how many teeth are counted with where none are given', () => {
    const bore = { bore: '22', tool: '12', depth: '10', material: 'steel' };
    expect(filled('helical-bore', bore).taken.flutes).toEqual({ value: '4', from: '' });
    expect(filled('helical-bore', { ...bore, flutes: '3' }).taken.flutes).toBeUndefined();
    expect(filled('helical-bore', { ...bore, flutes: '3' }).taken.feed.from).toMatch(/^3 teeth × /);
  });

  it('takes the teeth that the tool’s remark tells, and says so', () => {
    const head = 'G21 G90 G54\nT1 M6 (END MILL D12 2FL)\nS3000 M3\nM30\n';
    const analysis = new Analysis(head, DEFAULT_CONFIGURATION);
    analysis.run();
    const context = contextAt(analysis, 3, DEFAULT_CONFIGURATION);
    const bore = { bore: '22', depth: '10' };
    const { given, taken, raw } = filled('helical-bore', bore, context);
    expect(given.flutes).toEqual({ value: '2', from: 'tool’s remark' });
    expect(raw.flutes).toBe('2');
    expect(taken.feed.from).toMatch(/^2 teeth × /);
    // Another tool that is called has its own.
    expect(filled('helical-bore', { ...bore, tool: '12', 'tool-number': '5' }, context).given.flutes).toBeUndefined();
  });

  it('follows a reamer, and counts in inches', () => {
    const reamed = { operations: 'drill,ream', 'ream.tool-number': '2', material: 'steel', 'ream.diameter': '10' };
    const { taken } = filled('holes', { ...reamed, 'ream.depth': '20' });
    expect(taken['drill.diameter']).toEqual({ value: '9.8', from: 'from the reamer' });
    expect(taken['drill.depth']).toEqual({ value: '21', from: 'from the reamer' });
    const { taken: inch } = filled('holes', { ...TAPPED, 'tap.thread': '1/4-20 UNC', 'tap.depth': '0.5' }, inches);
    expect(Number(inch['drill.diameter'].value)).toBeCloseTo(0.201, 3);
  });

  it('gives the first operation the speed of the program', () => {
    const context = { ...alone, entry: { ...alone.entry, speed: 700 }, tool: { number: 1, kind: 'tap' as const } };
    const { taken } = filled(
      'holes',
      { operations: 'tap', 'tap.thread': 'M6', 'tap.depth': '12', 'tap.holder': 'synchronised' },
      context as typeof alone,
    );
    expect(taken['tap.speed']).toEqual({ value: '700', from: 'from the program' });
  });

  it('takes the number in the unit of the field, not the one before it', () => {
    const { taken, facts } = filled('round-pocket', { diameter: '60', tool: '10', depth: '5', material: 'steel' });
    expect(facts.find(({ name }) => name === 'stepover')?.text).toMatch(/mm \(.* %\)$/);
    const percent = Number(/\(([\d.]+) %/.exec(facts.find(({ name }) => name === 'stepover')?.text ?? '')?.[1]);
    expect(percent).toBeGreaterThan(5);
    expect(Number(taken.stepover.value)).toBe(percent);
  });

  it('says how many teeth a feed is computed for', () => {
    const { taken } = filled('helical-bore', { bore: '18', depth: '6', tool: '10', material: 'steel' });
    expect(taken.feed.from).toMatch(/^4 teeth × 0\.06\d* mm, by diameter only$/);
  });
});

describe('words on fields', () => {
  it('tells the diameter of a bolt circle, and takes it', () => {
    const circle = { ...M5, pattern: 'circle', count: '6' };
    expect(filled('holes', { ...circle, radius: '25' }).notes.radius).toBe('Ø 50 mm');
    for (const text of ['D50', 'd 50', 'Ø50', 'ø 50.0 mm', '⌀50']) {
      const result = filled('holes', { ...circle, radius: text });
      expect(result.notes.radius, text).toBe('Ø 50 mm');
      expect(result.lines?.filter((line) => /^[GX]/.test(line))).toEqual(
        filled('holes', { ...circle, radius: '25' }).lines?.filter((line) => /^[GX]/.test(line)),
      );
    }
    expect(filled('holes', { ...circle, radius: 'D2' }, inches).notes.radius).toBe('Ø 2 in');
    expect(asked(filled('holes', { ...circle, radius: 'D' }))).toEqual(['radius']);
    expect(filled('holes', circle).notes).toMatchObject({
      at: 'the centre of the circle',
      start: 'from X+, counter-clockwise',
    });
  });

  it('shows the usual speeds of the material that is chosen, and names those that the tables know', () => {
    const bore = { bore: '18', depth: '6', tool: '10', speed: '3000' };
    expect(filled('helical-bore', bore).notes.material).toContain('usual cutting speeds');
    expect(filled('helical-bore', { ...bore, material: 'titanium' }).notes['cutting-speed']).toBe(
      'usual 40 to 70 m/min',
    );
    expect(filled('helical-bore', { ...bore, material: 'wood' }).notes.material).toContain('in no table');
    for (const name of MATERIALS) expect(materialGroup(name)?.name).toBe(name);
    const field = blockForm(blockByName('helical-bore')!, alone).fields.find(({ name }) => name === 'material');
    expect(field?.suggestions).toContain('steel');
  });

  it('asks for ticks where there are ticks', () => {
    const { problems } = filled('holes', { operations: ',' });
    expect(problems).toEqual([{ parameter: 'operations', message: 'Tick one or more.' }]);
  });

  it('marks what each operation has itself', () => {
    const { fields } = blockForm(blockByName('holes')!, alone);
    expect(fields.filter(({ isShared }) => isShared).map(({ name }) => name)).toEqual(['tool-number', 'speed', 'feed']);
    expect(blockForm(blockByName('tapping')!, alone).fields.some(({ isShared }) => isShared)).toBe(false);
  });
});
