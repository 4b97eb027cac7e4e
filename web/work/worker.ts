import { design } from '../../src/design.js';
import { diagnose } from '../../src/diagnosis/diagnose.js';
import { EFFORTS } from '../../src/fit/effort.js';
import { InputError } from '../../src/inputError.js';
import type { DesignRequest } from '../../src/pipeline/designRequest.js';
import { type DiagnosedMeasurements, diagnoseMeasurements } from '../../src/pipeline/diagnoseMeasurements.js';
import { solveRequest } from '../../src/pipeline/solveRequest.js';
import { errorAgainstBands } from '../../src/pipeline/whatRemains.js';
import type { Design } from '../../src/schema/design.js';
import { withUnitEngine } from '../../src/units/withUnitEngine.js';
import { explainCurve } from '../../src/whatIf/explainCurve.js';
import { decides } from '../store/checkRoles.js';
import { checkDesign } from './checkDesign.js';
import type { Answer, Question } from './messages.js';
import { readJob } from './readJob.js';

/** Enough for a first look: within a few percent of the whole search, in a fraction of its time. */
const FIRST_LOOK = EFFORTS.quick;

const answer = (message: Answer) => postMessage(message);

/** The last diagnosis, and what it depends on. */
let last: { readonly key: string; readonly diagnosed: DiagnosedMeasurements } | undefined;

function diagnoseOnce(request: DesignRequest, key: string): DiagnosedMeasurements {
  if (last?.key === key) return last.diagnosed;
  const diagnosed = diagnoseMeasurements(request, request.sampleRateHz);
  last = { key, diagnosed };
  return diagnosed;
}

async function first({ id, job, fit }: Question & { readonly kind: 'first' }): Promise<void> {
  answer({ kind: 'step', id, words: 'Reading the files' });
  const read = await withUnitEngine(() => readJob(job));
  answer({ kind: 'read', id, files: read.files });
  const { request } = read;
  if (!request) {
    answer({ kind: 'refused', id, problems: read.problems });
    return;
  }
  const { from, to } = job.options;
  const measured = job.files.filter((file) => file.role !== 'device' && decides(file));
  const key = JSON.stringify([from, to, request.sampleRateHz, measured]);
  if (last?.key !== key) answer({ kind: 'step', id, words: 'Looking for what is wrong' });
  const diagnosed = diagnoseOnce(request, key);
  // Said before the other worker is set to the whole search: said after, it could come when that has ended, and stand.
  if (fit) answer({ kind: 'step', id, words: 'Fitting' });
  answer({ kind: 'diagnosed', id, basis: { request, diagnosed } });
  answer({
    kind: 'first',
    id,
    design: fit ? design(request, { diagnosed, effort: FIRST_LOOK }) : undefined,
  });
}

/** What a fit would make of the same speaker elsewhere: another curve, other findings, the same wishes. */
function elsewhere({ basis, setup, levelDb }: Question & { readonly kind: 'elsewhere' }): Design {
  const { request, diagnosed } = basis;
  const curve = { frequencyHz: diagnosed.prepared.curve.frequencyHz, levelDb };
  const { overrules: _, held: __, aim: ___, ...wishes } = request;
  // What each position measured here says nothing of the other place.
  const { positions: ____, repeats: _____, ...prepared } = diagnosed.prepared;
  return design(
    { ...wishes, setup },
    {
      diagnosed: {
        ...diagnosed,
        prepared: { ...prepared, curve },
        diagnosis: diagnose({ curve, range: diagnosed.range, setup }),
      },
      effort: FIRST_LOOK,
    },
  );
}

async function work(question: Question): Promise<void> {
  const { id } = question;
  try {
    switch (question.kind) {
      case 'first':
        await first(question);
        return;
      case 'whole': {
        const { request, diagnosed } = question.basis;
        const solved = solveRequest(request, diagnosed, EFFORTS[request.effort ?? 'normal']);
        answer({ kind: 'whole', id, design: design(request, { diagnosed, solved }) });
        const { problem, asked } = solved;
        answer({ kind: 'againstBands', id, curve: errorAgainstBands(problem, asked, request) });
        return;
      }
      case 'explain': {
        const { prepared, range } = question.basis.diagnosed;
        answer({ kind: 'explained', id, explained: explainCurve(prepared.curve, range, question.setup) });
        return;
      }
      case 'elsewhere':
        answer({ kind: 'elsewhere', id, design: elsewhere(question), setup: question.setup });
        return;
      case 'verify':
        answer({ kind: 'verified', id, verification: await withUnitEngine(() => checkDesign(question)) });
        return;
    }
  } catch (error) {
    if (error instanceof InputError)
      answer(
        question.kind === 'verify'
          ? { kind: 'notVerified', id, problem: error.message }
          : { kind: 'refused', id, problems: [error.message] },
      );
    else answer({ kind: 'failed', id, message: error instanceof Error ? error.message : String(error) });
  }
}

addEventListener('message', ({ data }: MessageEvent<Question>) => {
  void work(data);
});
