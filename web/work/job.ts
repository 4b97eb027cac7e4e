import type { Filter } from '../../src/filter/filter.js';
import type { Overrule, ProjectFile } from '../store/project.js';
import type { ProjectOptions } from '../store/projectOptions.js';

/** All that decides a design. */
export interface Job {
  /** On top of every output; the names of the files where the project has none of its own. */
  readonly title?: string;
  readonly files: readonly ProjectFile[];
  readonly options: ProjectOptions;
  readonly overrules: readonly Overrule[];
  /** Filters that stay as they are. */
  readonly held: readonly Filter[];
}

/** What was read of one file. */
export interface FileReading {
  /** In words: "960 rows, 20 Hz to 20 kHz". */
  readonly summary?: string;
  readonly warnings: readonly string[];
  /** Why it could not be read. */
  readonly problem?: string;
}
