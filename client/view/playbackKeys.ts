// Keys of the playback, wherever the keyboard is in the page but in a field or on a control that has a use for them.

/** What the keys do. */
export interface PlayKeys {
  isOpen(): boolean;
  playOrPause(): void;
  step(by: 1 | -1): void;
  goTo(end: 'start' | 'end'): void;
}

/** Listens for Space (play, pause), comma and full stop (a block back, on), Home and End (of the run, while it is open). */
export function listenForPlayKeys(page: Document, on: PlayKeys): void {
  page.addEventListener('keydown', (event) => {
    if (
      event.defaultPrevented ||
      event.ctrlKey ||
      event.altKey ||
      event.metaKey ||
      isTakenBy(event.target, event.key)
    ) {
      return;
    }
    const action = actionOf(event.key, on);
    if (action) {
      event.preventDefault();
      action();
    }
  });
}

/** Space presses what it is on; Home and End move a slider or a list; a field takes every key. */
function isTakenBy(target: EventTarget | null, key: string): boolean {
  const users = key === ' ' ? 'button, input, select, textarea, a' : 'input, select, textarea';
  const user = target instanceof Element ? target.closest(users) : null;
  const isStep = key === ',' || key === '.';
  return user !== null && !(isStep && user.matches('input[type="range"], input[type="checkbox"]'));
}

function actionOf(key: string, on: PlayKeys): (() => void) | undefined {
  const actions: Readonly<Record<string, () => void>> = {
    ' ': () => on.playOrPause(),
    ',': () => on.step(-1),
    '.': () => on.step(1),
    ...(on.isOpen() && { Home: () => on.goTo('start'), End: () => on.goTo('end') }),
  };
  return actions[key];
}
