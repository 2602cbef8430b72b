/** `blockwright serve --stdio`: the language server for any editor. */
import { serveFromNode } from '../nodeHost.ts';
import { UsageError } from './output.ts';

/** Serves one editor over standard input and output, until it goes. @throws UsageError without `stdio` */
export function serve(options: { readonly stdio?: boolean }): void {
  if (!options.stdio) throw new UsageError('serve needs --stdio: messages go over standard input and output');
  serveFromNode({});
}
