/** `blockwright serve --stdio`: the language server for any editor. */
import { resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { serveFromNode } from '../nodeHost.ts';
import { UsageError } from './output.ts';
import { type ConfigurationOptions, profileOfOptions, readText } from './shopFile.ts';

/** Options of `serve`. */
export interface ServeOptions extends ConfigurationOptions {
  readonly stdio?: boolean;
}

/** Serves one editor over standard input and output, until it goes. @throws UsageError without `stdio`, or for files that are not there */
export function serve(options: ServeOptions): void {
  if (!options.stdio) throw new UsageError('serve needs --stdio: messages go over standard input and output');
  const { config } = options;
  // A file that is there but wrong is told of in the editor, at its place.
  if (config !== undefined && readText(resolve(config)) === undefined) {
    throw new UsageError(`--config: ${config} cannot be read`);
  }
  const profile = profileOfOptions(options);
  serveFromNode({
    ...(config === undefined ? {} : { shopFile: pathToFileURL(resolve(config)).href }),
    ...(profile === undefined ? {} : { profile }),
  });
}
