/**
 * The browser's own storage does not keep projects: neither bad input nor a fault of ours. The message says in plain
 * words why, and what the user can do instead.
 */
export class StorageProblem extends Error {
  override readonly name = 'StorageProblem';
}

const INSTEAD = 'Save the project as a file to keep it.';

/** What a failed request of the browser's storage means to the user. */
export function storageProblem(error: unknown): StorageProblem {
  if (error instanceof StorageProblem) return error;
  const name = error instanceof Error || error instanceof DOMException ? error.name : '';
  return new StorageProblem(`${reason(name)} ${INSTEAD}`, { cause: error });
}

function reason(errorName: string): string {
  switch (errorName) {
    case 'QuotaExceededError':
      return 'The browser gives this page no more room for projects: remove some that you no longer need.';
    case 'SecurityError':
    case 'InvalidStateError':
    case 'ReferenceError':
      return 'This browser window keeps nothing: it is private, or its settings forbid pages to store data.';
    case 'VersionError':
      return "The projects in this browser were kept by a newer version of the program, which this one can't read.";
    default:
      return "The browser's storage failed.";
  }
}
