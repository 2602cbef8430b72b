/** Words for why a run ended before its program did. */
import type { RunLimits } from '../../machine/configuration.ts';
import type { FlowStop } from './follow.ts';

/** A few words for the command line and the view. */
export const wordStop = ({ kind, number }: Pick<FlowStop, 'kind' | 'number'>, limits: RunLimits): string => {
  switch (kind) {
    case 'repeats':
      return 'this loop never ends';
    case 'steps':
      return `more than ${limits.steps} blocks`;
    case 'moves':
      return `more than ${limits.moves} moves`;
    case 'seconds':
      return `longer than ${limits.seconds} seconds`;
    case 'depth':
      return `calls more than ${limits.depth} deep`;
    case 'no-return':
      return `O${number} does not return`;
    case 'loading':
      return `O${number} is still being read`;
    default:
      return `the program raises its own alarm ${number}`;
  }
};
