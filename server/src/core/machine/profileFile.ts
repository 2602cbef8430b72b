/** Control profiles by name: a preset, or a file with `{ "base": preset, …fields }`. */
import { getNodeValue } from 'jsonc-parser';
import { located, parseChecked } from './configurationText.ts';
import { quotedText } from './jsonSchema.ts';
import { type ControlProfile, DEFAULT_PROFILE, PROFILES } from './profile.ts';
import { PROFILE_SCHEMA } from './profileSchema.ts';

/** The text of a profile's file by its name as written; undefined where it cannot be read. */
export type ReadProfileFile = (name: string) => string | undefined;

/** A preset and the fields that differ. */
export type RawProfile = { readonly base?: string } & Partial<ControlProfile>;

/** True for the name of a preset. */
export const isPreset = (name: string): boolean => Object.hasOwn(PROFILES, name);

/**
 * A profile by the name of a preset, or from a file that holds `{ "base": preset, …fields }` with lengths in mm.
 * @returns the profile, or a sentence that says what is wrong
 */
export function profileByName(name: string, readProfile?: ReadProfileFile): ControlProfile | string {
  if (isPreset(name)) return PROFILES[name];
  const text = readProfile?.(name);
  if (text === undefined) {
    return `${quotedText(name)} is no preset (${Object.keys(PROFILES).join(', ')}), and no file of that name can be read.`;
  }
  const { tree, problems } = parseChecked(text, PROFILE_SCHEMA, 'a profile');
  if (!tree || problems.length > 0) {
    const { line, column, message } = located(text, problems[0], true);
    return `The profile in ${quotedText(name)} is wrong at line ${line + 1}, column ${column + 1}: ${message}`;
  }
  return overBase(getNodeValue(tree), 1);
}

/** A preset with its differences; `unit` is millimetres a unit of its lengths. */
export function overBase(own: RawProfile, unit: number): ControlProfile {
  const { base = DEFAULT_PROFILE.name, ...fields } = own;
  const preset = PROFILES[base];
  return {
    ...preset,
    ...fields,
    ...(fields.peckRetract === undefined ? {} : { peckRetract: fields.peckRetract * unit }),
    remarks: { ...preset.remarks, ...fields.remarks },
    start: { ...preset.start, ...fields.start },
  };
}
