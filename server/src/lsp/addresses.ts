/** Addresses of files and folders, compared whichever way an editor writes them. */

/** The folder of a file as it compares, and the file's name; undefined for documents that lie in no folder. */
export interface FilePlace {
  /** Without a slash at the end. */
  readonly folder: string;
  readonly name: string;
}

/** One folder or file as it compares: every character as itself, no `..`, the drive in small letters. Undefined where it is none. */
function comparableAddress(address: string): string | undefined {
  try {
    const { protocol, host, pathname } = new URL(address);
    if (!pathname.startsWith('/') || protocol === 'untitled:') return undefined;
    const segments = pathname.split('/').map((segment) => decodeURIComponent(segment));
    if (segments.some((segment) => /[/\\]|^\.\.?$/.test(segment))) return undefined;
    const path = segments.join('/').replace(/^\/[A-Z]:/, (drive) => drive.toLowerCase());
    return `${protocol}//${host}${path.replace(/\/$/, '')}`;
  } catch {
    return undefined;
  }
}

/** Where a file lies. */
export function placeOf(address: string): FilePlace | undefined {
  const whole = comparableAddress(address);
  if (whole === undefined) return undefined;
  const slash = whole.lastIndexOf('/');
  return { folder: whole.slice(0, slash), name: whole.slice(slash + 1) };
}

/** The address of a file in a folder, from the address of another file in it. */
export function siblingAddress(address: string, name: string): string {
  const path = address.replace(/[?#].*$/, '');
  return `${path.slice(0, path.lastIndexOf('/') + 1)}${encodeURIComponent(name)}`;
}

/** True if a folder is another one or lies in it; both as they compare. */
export const isInside = (folder: string, outer: string): boolean => folder === outer || folder.startsWith(`${outer}/`);
