import { design } from '../../src/design.js';
import { NORMAL_EFFORT } from '../../src/fit/fitFilters.js';
import type { SearchEffort } from '../../src/fit/search.js';
import { InputError } from '../../src/inputError.js';
import type { DesignRequest } from '../../src/pipeline/designRequest.js';
import { type DiagnosedMeasurements, diagnoseMeasurements } from '../../src/pipeline/diagnoseMeasurements.js';
import { withUnitEngine } from '../../src/units/withUnitEngine.js';
import type { Answer, Question } from './messages.js';
import { readJob } from './readJob.js';

/** Enough for a first look: within a few percent of the whole search, in a tenth of its time. */
const FIRST_LOOK: SearchEffort = { ...NORMAL_EFFORT, hops: 4 };

const answer = (message: Answer) => postMessage(message);

/** The last diagnosis, and what it depends on. */
let last: { readonly key: string; readonly diagnosed: DiagnosedMeasurements } | undefined;

function diagnoseOnce(request: DesignRequest, key: string): DiagnosedMeasurements {
  if (last?.key === key) return last.diagnosed;
  const diagnosed = diagnoseMeasurements(request, request.sampleRateHz);
  last = { key, diagnosed };
  return diagnosed;
}

async function work(question: Question): Promise<void> {
  const { id } = question;
  try {
    if (question.kind === 'whole') {
      answer({ kind: 'whole', id, design: design(question.request, { diagnosed: question.diagnosed }) });
      return;
    }
    if (question.kind === 'elsewhere') return;
    answer({ kind: 'step', id, words: 'Reading the files' });
    const { job } = question;
    const read = await withUnitEngine(() => readJob(job));
    answer({ kind: 'read', id, files: read.files });
    const { request } = read;
    if (!request) {
      answer({ kind: 'refused', id, problems: read.problems });
      return;
    }
    const { from, to } = job.options;
    const measured = job.files.filter(({ role }) => role !== 'device' && role !== 'after');
    const key = JSON.stringify([from, to, request.sampleRateHz, measured]);
    if (last?.key !== key) answer({ kind: 'step', id, words: 'Looking for what is wrong' });
    const diagnosed = diagnoseOnce(request, key);
    answer({ kind: 'step', id, words: 'Fitting, first look' });
    const first = design(request, { diagnosed, effort: FIRST_LOOK });
    answer({ kind: 'first', id, design: first, request, diagnosed });
  } catch (error) {
    if (error instanceof InputError) answer({ kind: 'refused', id, problems: [error.message] });
    else answer({ kind: 'failed', id, message: error instanceof Error ? error.message : String(error) });
  }
}

addEventListener('message', ({ data }: MessageEvent<Question>) => {
  void work(data);
});
