/** The editor's one setting, `blockwright.rules`: code → severity, from whichever way the client tells it. */
import type { Connection } from 'vscode-languageserver';
import type { RuleSetting } from '../core/machine/configuration.ts';

const SECTION = 'blockwright.rules';

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

const member = (value: unknown, key: string): unknown =>
  typeof value === 'object' && value !== null ? (value as Record<string, unknown>)[key] : undefined;

/** Where the setting is known from. */
export class EditorSettings {
  private readonly connection: Connection;
  /** For clients that are not asked: what they told, from `initializationOptions.rules` on. */
  private told: RuleSettings = {};
  private asks = false;

  constructor(connection: Connection) {
    this.connection = connection;
  }

  /** `asks` is true for a client that answers `workspace/configuration`. */
  initialize(asks: boolean, initializationOptions: unknown): void {
    this.asks = asks;
    this.told = ruleSettingsOf(member(initializationOptions, 'rules'));
  }

  /** Takes what didChangeConfiguration carries; a client that is asked carries nothing that counts. */
  changed(settings: unknown): void {
    const rules = member(member(settings, 'blockwright'), 'rules');
    if (rules !== undefined) this.told = ruleSettingsOf(rules);
  }

  /** The setting for one program; empty where the client does not answer. */
  async rulesFor(uri: string): Promise<RuleSettings> {
    if (!this.asks) return this.told;
    try {
      return ruleSettingsOf(await this.connection.workspace.getConfiguration({ scopeUri: uri, section: SECTION }));
    } catch {
      return this.told;
    }
  }
}
