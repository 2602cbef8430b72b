/** The editor's settings below `blockwright`: severities of rules and switches of features, from whichever way the client tells them. */
import type { Connection } from 'vscode-languageserver';
import { type FormatStyle, formatStyleOf } from '../core/features/formatStyle.ts';
import type { RuleSetting } from '../core/machine/configuration.ts';

const ROOT = 'blockwright';

const isObject = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

type RuleSettings = Readonly<Record<string, RuleSetting>>;

const isSetting = (value: unknown): value is RuleSetting =>
  value === 'error' || value === 'warning' || value === 'hint' || value === 'off';

/** The usable entries of a setting; anything else in it is left out. */
function ruleSettingsOf(value: unknown): RuleSettings {
  const settings: Record<string, RuleSetting> = {};
  if (typeof value !== 'object' || value === null) return settings;
  for (const [code, severity] of Object.entries(value)) {
    if (isSetting(severity)) settings[code] = severity;
  }
  return settings;
}

/** Where the settings are known from. */
export class EditorSettings {
  private readonly connection: Connection;
  /** For clients that are not asked: what they told, from `initializationOptions` on. */
  private told: Readonly<Record<string, unknown>> = {};
  private asks = false;
  private isToldOfChanges = false;
  /** Answers of the client by setting and program, until it tells of a change. */
  private readonly answers = new Map<string, Promise<unknown>>();

  constructor(connection: Connection) {
    this.connection = connection;
  }

  /** `asks` is true for a client that answers `workspace/configuration`, `isToldOfChanges` for one that tells when an answer is another one. */
  initialize(asks: boolean, isToldOfChanges: boolean, initializationOptions: unknown): void {
    this.asks = asks;
    this.isToldOfChanges = isToldOfChanges;
    this.told = isObject(initializationOptions) ? initializationOptions : {};
  }

  /** Takes what didChangeConfiguration carries; a client that is asked carries nothing that counts. */
  changed(settings: unknown): void {
    this.answers.clear();
    const own = isObject(settings) ? settings[ROOT] : undefined;
    if (isObject(own)) this.told = { ...this.told, ...own };
  }

  /** The rules' severities for one program; empty where the client does not answer. */
  async rulesFor(uri: string): Promise<RuleSettings> {
    return ruleSettingsOf(await this.valueFor(uri, 'rules'));
  }

  /** False where `blockwright.<name>` is set to false for a program. */
  async isOn(uri: string, name: string): Promise<boolean> {
    return (await this.valueFor(uri, name)) !== false;
  }

  /** Those of `names` that are not set to false as `blockwright.<group>.<name>`; none where the group itself is. */
  async thoseOn<Name extends string>(uri: string, group: string, names: readonly Name[]): Promise<ReadonlySet<Name>> {
    const value = await this.valueFor(uri, group);
    if (value === false) return new Set();
    return new Set(names.filter((name) => !isObject(value) || value[name] !== false));
  }

  /** How one program is to look when it is formatted. */
  async styleFor(uri: string): Promise<FormatStyle> {
    return formatStyleOf(await this.valueFor(uri, 'format'));
  }

  private async valueFor(uri: string, name: string): Promise<unknown> {
    if (!this.asks) return this.told[name];
    const key = `${name} ${uri}`;
    let answer = this.answers.get(key);
    if (answer === undefined) {
      answer = this.ask(uri, name);
      if (this.isToldOfChanges) this.answers.set(key, answer);
    }
    return answer;
  }

  private async ask(uri: string, name: string): Promise<unknown> {
    try {
      return await this.connection.workspace.getConfiguration({ scopeUri: uri, section: `${ROOT}.${name}` });
    } catch {
      return this.told[name];
    }
  }
}
