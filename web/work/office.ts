import type { Setup } from '../../src/acoustics/setup.js';
import type { Design } from '../../src/schema/design.js';
import type { Verification } from '../../src/schema/verification.js';
import type { ExplainedCurve } from '../../src/whatIf/explainCurve.js';
import { newWorker } from '../platform/served.js';
import type { FileReading, Job } from './job.js';
import type { Answer, DesignBasis, Question } from './messages.js';

export interface OfficeEvents {
  readonly onStep: (words: string) => void;
  readonly onRead: (files: readonly FileReading[], job: Job) => void;
  readonly onRefused: (problems: readonly string[]) => void;
  readonly onBasis: (basis: DesignBasis, job: Job) => void;
  /** `whole` is false for a first look, which the same job's whole design will follow. */
  readonly onDesign: (design: Design, whole: boolean, job: Job) => void;
  /** Of the last whole design. */
  readonly onAgainstBands: (curve: Design['errorAgainstBands'], job: Job) => void;
  readonly onExplained: (explained: ExplainedCurve | undefined) => void;
  readonly onElsewhere: (design: Design, setup: Setup) => void;
  readonly onVerified: (verification: Verification) => void;
  readonly onNotVerified: (problem: string) => void;
  /** The job is done, given up or refused. */
  readonly onIdle: () => void;
  readonly onFailed: (message: string) => void;
}

export interface Office {
  /** Begins a job; one under way is given up. Without `fit` it is only read and diagnosed. */
  readonly begin: (job: Job, fit: boolean) => void;
  /** Gives up what is under way. */
  readonly cancel: () => void;
  /** Something small besides the job; of several of a kind that wait only the last is done. */
  readonly besides: (question: Small) => void;
}

type WithoutId<T> = T extends Question ? Omit<T, 'id'> : never;
type Small = WithoutId<Extract<Question, { kind: 'explain' | 'elsewhere' | 'verify' }>>;

/** A worker that has been at it for longer is not waited for but replaced; it then reads and diagnoses anew. */
const PATIENCE_MS = 400;

/**
 * Two workers: one reads, diagnoses and gives first looks, and keeps what it has read; one does the whole search, and
 * is ended when that is no longer wanted.
 */
export function openOffice(events: OfficeEvents): Office {
  let current = 0;
  let job: Job;
  let fit = true;
  let reader: Worker | undefined;
  let readerBusySince: number | undefined;
  let searcher: Worker | undefined;
  let searcherBusy = false;
  /** The whole design is still to come; what comes after it keeps the searcher busy all the same. */
  let wholeDue = false;
  /** The job is to be begun when the reader is free. */
  let waiting: ReturnType<typeof setTimeout> | undefined;
  /** Waiting, one of each kind, in the order in which they were asked. */
  let smalls: readonly Small[] = [];

  const ask = (worker: Worker, question: Question) => worker.postMessage(question);

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

  /** What a worker says of the job under way. */
  function heard(answer: Answer, from: Worker): void {
    const isLast = !['step', 'read', 'diagnosed'].includes(answer.kind);
    if (from === reader && isLast) {
      readerBusySince = undefined;
      if (waiting !== undefined) {
        start();
        return;
      }
    }
    if (answer.id === current) tell(answer);
    if (from === reader && isLast) nextSmall();
  }

  function tell(answer: Answer): void {
    switch (answer.kind) {
      case 'step':
        events.onStep(answer.words);
        break;
      case 'read':
        events.onRead(answer.files, job);
        break;
      case 'refused':
      case 'failed':
        dismissSearcher();
        if (answer.kind === 'refused') events.onRefused(answer.problems);
        else events.onFailed(answer.message);
        events.onIdle();
        break;
      case 'diagnosed':
        events.onBasis(answer.basis, job);
        if (!fit) break;
        searcher ??= hire();
        searcherBusy = true;
        wholeDue = true;
        ask(searcher, { kind: 'whole', id: current, basis: answer.basis });
        break;
      case 'first':
        if (answer.design && wholeDue) {
          events.onStep('Searching on');
          events.onDesign(answer.design, false, job);
        }
        if (!fit) events.onIdle();
        break;
      case 'whole':
        wholeDue = false;
        events.onDesign(answer.design, true, job);
        events.onIdle();
        break;
      case 'againstBands':
        searcherBusy = false;
        events.onAgainstBands(answer.curve, job);
        break;
      case 'explained':
        events.onExplained(answer.explained);
        break;
      case 'elsewhere':
        events.onElsewhere(answer.design, answer.setup);
        break;
      case 'verified':
        events.onVerified(answer.verification);
        break;
      case 'notVerified':
        events.onNotVerified(answer.problem);
        break;
    }
  }

  function nextSmall(): void {
    const [small, ...rest] = smalls;
    if (!small || readerBusySince !== undefined || waiting !== undefined) return;
    reader ??= hire();
    readerBusySince = performance.now();
    ask(reader, { ...small, id: current });
    smalls = rest;
  }

  function dismissSearcher(): void {
    if (!searcherBusy) return;
    searcher?.terminate();
    searcher = undefined;
    searcherBusy = false;
    wholeDue = false;
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
    ask(reader, { kind: 'first', id: current, job, fit });
    // Hired now, so that it is there when it is needed.
    if (fit) searcher ??= hire();
  }

  return {
    begin: (next, withFit) => {
      current += 1;
      job = next;
      fit = withFit;
      smalls = [];
      dismissSearcher();
      events.onStep('Beginning');
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
      smalls = [];
      dismissAll();
      events.onIdle();
    },
    besides: (question) => {
      smalls = [...smalls.filter(({ kind }) => kind !== question.kind), question];
      nextSmall();
    },
  };
}
