import type { DesignRequest } from '../../src/pipeline/designRequest.js';
import type { DiagnosedMeasurements } from '../../src/pipeline/diagnoseMeasurements.js';
import type { Design } from '../../src/schema/design.js';
import { newWorker } from '../platform/served.js';
import type { FileReading, Job } from './job.js';
import type { Answer, Question } from './messages.js';

export interface OfficeEvents {
  readonly onStep: (words: string) => void;
  readonly onRead: (files: readonly FileReading[], job: Job) => void;
  readonly onRefused: (problems: readonly string[]) => void;
  /** `whole` is false for a first look, which the same request's whole design will follow. */
  readonly onDesign: (design: Design, whole: boolean, basis: DesignBasis, job: Job) => void;
  /** Nothing is being done any more. */
  readonly onIdle: () => void;
  readonly onFailed: (message: string) => void;
}

/** What a design was made from. */
export interface DesignBasis {
  readonly request: DesignRequest;
  readonly diagnosed: DiagnosedMeasurements;
}

export interface Office {
  /** Begins a job; one under way is given up. */
  readonly begin: (job: Job) => void;
  /** Gives up what is under way. */
  readonly cancel: () => void;
}

/** A worker that has been at it for longer is not waited for but replaced; it then reads and diagnoses anew. */
const PATIENCE_MS = 400;

/**
 * Two workers: one reads, diagnoses and gives a first look, and keeps what it has read; one does the whole search, and
 * is ended when it is no longer wanted.
 */
export function openOffice(events: OfficeEvents): Office {
  let current = 0;
  let reader: Worker | undefined;
  let readerBusySince: number | undefined;
  let searcher: Worker | undefined;
  let searcherBusy = false;
  let basis: DesignBasis | undefined;
  let job: Job;
  /** To be begun when the reader is free. */
  let waiting: ReturnType<typeof setTimeout> | undefined;

  function hire(): Worker {
    const worker = newWorker();
    worker.addEventListener('message', ({ data }: MessageEvent<Answer>) => heard(data, worker));
    worker.addEventListener('error', (event) => {
      event.preventDefault();
      readerBusySince ??= performance.now();
      dismissAll();
      events.onFailed(event.message || 'a worker could not be started');
      events.onIdle();
    });
    return worker;
  }

  function heard(answer: Answer, from: Worker): void {
    if (from === reader && answer.kind !== 'step' && answer.kind !== 'read') {
      readerBusySince = undefined;
      if (waiting !== undefined) {
        start();
        return;
      }
    }
    if (answer.id !== current) return;
    switch (answer.kind) {
      case 'step':
        events.onStep(answer.words);
        return;
      case 'read':
        events.onRead(answer.files, job);
        return;
      case 'refused':
        events.onRefused(answer.problems);
        events.onIdle();
        return;
      case 'first': {
        basis = { request: answer.request, diagnosed: answer.diagnosed };
        searcher ??= hire();
        searcherBusy = true;
        ask(searcher, { kind: 'whole', id: current, ...basis });
        events.onStep('Fitting, whole search');
        events.onDesign(answer.design, false, basis, job);
        return;
      }
      case 'whole':
        searcherBusy = false;
        events.onDesign(answer.design, true, basis!, job);
        events.onIdle();
        return;
      case 'failed':
        searcherBusy = false;
        events.onFailed(answer.message);
        events.onIdle();
        return;
      default:
        return;
    }
  }

  const ask = (worker: Worker, question: Question) => worker.postMessage(question);

  function dismissSearcher(): void {
    if (!searcherBusy) return;
    searcher?.terminate();
    searcher = undefined;
    searcherBusy = false;
  }

  function dismissAll(): void {
    dismissSearcher();
    if (readerBusySince === undefined) return;
    reader?.terminate();
    reader = undefined;
    readerBusySince = undefined;
  }

  function start(): void {
    clearTimeout(waiting);
    waiting = undefined;
    reader ??= hire();
    readerBusySince = performance.now();
    ask(reader, { kind: 'first', id: current, job });
    // Hired now, so that it is there when the first look is.
    searcher ??= hire();
  }

  return {
    begin: (next) => {
      current += 1;
      job = next;
      dismissSearcher();
      events.onStep('Waiting for the last step to end');
      if (readerBusySince === undefined) {
        start();
        return;
      }
      const patienceMs = Math.max(0, readerBusySince + PATIENCE_MS - performance.now());
      waiting ??= setTimeout(() => {
        dismissAll();
        start();
      }, patienceMs);
    },
    cancel: () => {
      current += 1;
      clearTimeout(waiting);
      waiting = undefined;
      dismissAll();
      events.onIdle();
    },
  };
}
