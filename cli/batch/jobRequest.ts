import { existsSync } from 'node:fs';
import { resolve } from 'node:path';
import type { DesignRequest } from '../../src/pipeline/designRequest.js';
import type { BatchJob } from '../../src/schema/batch.js';
import { type Flags, readDesignRequest } from '../readRequest.js';

/**
 * What a job asks for. Its own fields go before the options that the whole batch was given; its paths are taken from
 * the manifest's folder.
 *
 * @throws InputError with every problem of its numbers and files
 */
export function jobRequest(job: BatchJob, folder: string, common: Flags): DesignRequest {
  const { job: _, measurement, moved, repeat, ...own } = job as BatchJob & Readonly<Record<string, unknown>>;
  const from = (path: string) => resolve(folder, path);
  const list = (paths: string | readonly string[]) => [paths].flat().map(from);
  const files = Object.fromEntries(
    (['setup', 'calibration', 'target', 'device'] as const).flatMap((field) => {
      const path = own[field];
      // The word flat and the name of a device are no files.
      const isFile =
        typeof path === 'string' && (existsSync(from(path)) || field === 'setup' || field === 'calibration');
      return isFile ? [[field, from(path)]] : [];
    }),
  );
  const texts = Object.fromEntries(
    (['gate', 'channel'] as const).flatMap((field) =>
      own[field] === undefined ? [] : [[field, String(own[field])]],
    ),
  );
  // What a job says of itself goes before what is held of all: a repeated measurement before a repeatability.
  const { repeatability: _all, ...others } = common;
  const flags = {
    ...(repeat === undefined ? common : others),
    ...own,
    ...texts,
    ...files,
    ...(moved !== undefined && { moved: list(moved) }),
    ...(repeat !== undefined && { repeat: list(repeat) }),
  };
  // Numbers may be written as such; what is no option is refused where it is read.
  const request = readDesignRequest(
    list(measurement),
    flags as Flags,
    {
      ...own,
      ...texts,
      ...(repeat !== undefined && { repeat: list(repeat) }),
    } as Flags,
  );
  return common.againstBands ? { ...request, againstBands: true } : request;
}
