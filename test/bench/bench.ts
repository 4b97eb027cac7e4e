// Speed, printed and never asserted: npm run bench
import { execFileSync, spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { logGrid } from '../../src/curve/logGrid.js';
import { bandsFromFilters } from '../../src/fit/bank/bands.js';
import { boundsOf } from '../../src/fit/bank/bounds.js';
import { EFFORTS, type EffortName } from '../../src/fit/effort.js';
import { errorBound } from '../../src/fit/errorBound.js';
import { errorCurve } from '../../src/fit/errorCurve.js';
import { FIRM_PENALTY, LEVEL_RESTRAINT } from '../../src/fit/finish/exactLimits.js';
import { polish } from '../../src/fit/finish/polish.js';
import { fitFilters } from '../../src/fit/fitFilters.js';
import { createObjective } from '../../src/fit/objective/objective.js';
import { buildProblem } from '../../src/fit/problem/buildProblem.js';
import { fitGrid } from '../../src/fit/problem/fitGrid.js';
import type { FitProblem } from '../../src/fit/problem/fitProblem.js';
import { objectiveValue } from '../../src/fit/refinement/objectiveValue.js';
import { refine } from '../../src/fit/refinement/refine.js';
import { seededRandom } from '../../src/fit/seededRandom.js';
import { readMeasurementText } from '../../src/measurement/readMeasurementText.js';

const ROWS = 65_536;
const root = fileURLToPath(new URL('../../', import.meta.url));

/** A curve in which ten bands find enough to do: waves of one to a third of an octave over a tilt, ten octaves. */
function roughProblem(maxBands: number, seed: number, perOctave = 48): FitProblem {
  const random = seededRandom(seed);
  const waves = Array.from({ length: 8 }, () => ({
    db: 0.6 + 1.4 * random(),
    perOctave: 0.3 + 1.2 * random(),
    phase: 2 * Math.PI * random(),
  }));
  const frequencyHz = logGrid(20, 20480, perOctave);
  const deviationDb = frequencyHz.map((hz) => {
    const octaves = Math.log2(hz / 1000);
    return waves.reduce(
      (sum, { db, perOctave, phase }) => sum + db * Math.sin(2 * Math.PI * perOctave * octaves + phase),
      -0.3 * octaves,
    );
  });
  return buildProblem({
    sampleRateHz: 48000,
    frequencyHz,
    deviationDb,
    zones: [],
    limits: {
      maxBands,
      types: ['peaking', 'lowShelf', 'highShelf'],
      maxBoostDb: 6,
      maxCutDb: 12,
      minQ: 0.4,
      maxQ: 10,
      maxShelfQ: 10,
      minFrequencyHz: 20,
      maxFrequencyHz: 20000,
      maxLevelLossDb: 3,
    },
  });
}

interface Times {
  readonly ms: number;
  /** Time that this process was really at work, which other programs on the machine hardly change. */
  readonly cpuMs: number;
}

/** Medians over `runs` runs, after one that does not count. */
function timesOf(runs: number, work: (run: number) => void): Times {
  work(0);
  const all = Array.from({ length: runs }, (_, run): Times => {
    const [start, cpu] = [performance.now(), process.cpuUsage()];
    work(run);
    const { user, system } = process.cpuUsage(cpu);
    return { ms: performance.now() - start, cpuMs: (user + system) / 1000 };
  });
  return { ms: median(all.map(({ ms }) => ms)), cpuMs: median(all.map(({ cpuMs }) => cpuMs)) };
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return (sorted[Math.floor((sorted.length - 1) / 2)]! + sorted[Math.ceil((sorted.length - 1) / 2)]!) / 2;
}

const inMs = (ms: number) => `${ms < 10 ? ms.toFixed(2) : ms.toFixed(0)} ms`;

function line(what: string, { ms, cpuMs }: Times, note = ''): void {
  const cpu = Number.isNaN(cpuMs) ? '' : inMs(cpuMs);
  console.log(`${what.padEnd(66)}${inMs(ms).padStart(9)}${cpu.padStart(10)}  ${note}`.trimEnd());
}
/** Of processor time where it is known. */
function ratio(a: Times, b: Times): string {
  const of = (times: Times) => (Number.isNaN(a.cpuMs + b.cpuMs) ? times.ms : times.cpuMs);
  return `${(of(a) / of(b)).toFixed(1)} times`;
}

const BANDS = [3, 5, 7, 10, 15, 20];

function benchFits(): void {
  const timeFit = (bands: number, effort: EffortName = 'normal', perOctave = 48) =>
    timesOf(12, (run) => {
      const problem = roughProblem(bands, run + 1, perOctave);
      fitFilters(problem, { random: seededRandom(1), effort: EFFORTS[effort] });
    });
  // So that the first figure is not that of a program still being compiled.
  timeFit(10);
  const ten = timeFit(10);
  for (const bands of BANDS) {
    const times = bands === 10 ? ten : timeFit(bands);
    const note = `${ratio(times, ten)} that of 10 bands; bands² would be ${((bands / 10) ** 2).toFixed(2)} times`;
    line(`fit of ${bands} bands, 480 points, in process, median of 12`, times, note);
  }
  line('10 bands, 240 points', timeFit(10, 'normal', 24));
  const double = timeFit(10, 'normal', 96);
  line('10 bands, 960 points', double, `${ratio(double, ten)} that of 480 points`);
  line('10 bands, 480 points, --effort quick', timeFit(10, 'quick'));
  line('10 bands, 480 points, --effort thorough', timeFit(10, 'thorough'));
}

/** How long until the search holds a bank within a tenth of the error that is left in the end. */
function benchFirstGood(): void {
  // Some curves have it after a third of the time that others take, so few of them make no steady median.
  for (const [bands, curves] of [
    [5, 48],
    [10, 48],
    [20, 12],
  ] as const) {
    const first = Array.from({ length: curves }, (_, run) => {
      const problem = roughProblem(bands, run + 1);
      const seen: { readonly ms: number; readonly rmsDb: number }[] = [];
      const start = performance.now();
      const { rmsDb } = fitFilters(problem, {
        random: seededRandom(1),
        effort: EFFORTS.normal,
        onBetter: (_filters, found) => seen.push({ ms: performance.now() - start, rmsDb: found }),
      });
      // Where only the finish comes so near, it is the whole fit.
      return seen.find((one) => one.rmsDb <= 1.1 * rmsDb)?.ms ?? performance.now() - start;
    });
    line(`first bank within 10 % of the end, ${bands} bands, median of ${curves}`, {
      ms: median(first),
      cpuMs: Number.NaN,
    });
  }
}

/** What is told beside a fit: the error against the number of bands, the bound, the bank for the worst position. */
function benchBeside(): void {
  for (const bands of [5, 10, 20]) {
    const problems = Array.from({ length: 12 }, (_, run) => roughProblem(bands, run + 1));
    const random = () => seededRandom(1);
    const fits = problems.map((problem) => fitFilters(problem, { random: random(), effort: EFFORTS.normal }));
    const fit = timesOf(12, (run) => {
      fitFilters(problems[run]!, { random: random(), effort: EFFORTS.normal });
    });
    const curve = timesOf(12, (run) => {
      errorCurve(problems[run]!, {
        random: random(),
        maxBands: Math.max(12, bands + 2),
        known: fits[run]!,
      });
    });
    line(
      `error against the number of bands beside a fit of ${bands}`,
      curve,
      `${ratio(curve, fit)} that fit`,
    );
  }
  const bound = timesOf(12, (run) => {
    errorBound(roughProblem(10, run + 1));
  });
  line('what no number of bands could mend', bound);
}

/** Fits per second of the built program, on one worker and on all. */
function benchBatch(): void {
  const program = join(root, 'dist/cli/main.js');
  if (!existsSync(program)) return;
  const jobs = 120;
  const folder = mkdtempSync(join(tmpdir(), 'nullwise-bench-'));
  try {
    const demo = join(root, 'fixtures/demo/position-1.txt');
    const rows = Array.from({ length: jobs }, (_, i) => JSON.stringify({ measurement: demo, seed: i + 1 }));
    const manifest = join(folder, 'jobs.ndjson');
    writeFileSync(manifest, rows.join('\n'));
    const perSecond = (workers: number) => {
      const start = performance.now();
      const args = [program, 'batch', manifest, '--bands', '10', '--workers', String(workers), '--quiet'];
      const { status, stderr } = spawnSync(process.execPath, args, { encoding: 'utf8', maxBuffer: 1e9 });
      if (status !== 0) throw new Error(stderr);
      return (1000 * jobs) / (performance.now() - start);
    };
    const cores = cpus().length;
    const one = perSecond(1);
    console.log(`batch of ${jobs} whole designs, 10 bands: ${one.toFixed(1)} a second on one worker`);
    for (const workers of new Set([2, cores])) {
      const all = perSecond(workers);
      console.log(
        `  on ${workers} workers ${all.toFixed(1)}, ${(all / workers).toFixed(1)} per worker: ` +
          `${(all / one).toFixed(2)} times one, ${((100 * all) / (one * workers)).toFixed(0)} % of ${workers} times`,
      );
    }
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** The same finish from the same start, with the library's finite differences and with the analytic Jacobian. */
function benchPolish(): void {
  const problem = roughProblem(10, 1);
  const bounds = boundsOf(problem.limits);
  const objective = createObjective(fitGrid(problem, 1), 10, {
    penalty: FIRM_PENALTY,
    restraint: 0,
    levelRestraint: LEVEL_RESTRAINT,
    maxLevelLossDb: problem.limits.maxLevelLossDb,
  });
  const { filters } = fitFilters(problem, { random: seededRandom(1), effort: EFFORTS.normal });
  // A little off, so that there is something to do.
  const start = bandsFromFilters(
    filters.map((filter, i) => ({
      ...filter,
      gainDb: filter.gainDb * (i % 2 ? 0.95 : 0.9),
      q: Math.min(9, filter.q * 1.05),
    })),
  );
  const options = { stretches: 1, iterationsPerStretch: 5, tolerance: 0 };
  const values: number[] = [];
  const [analytic, finite] = [false, true].map((finiteDifferences) =>
    timesOf(20, (run) => {
      const result = polish(objective, start, bounds, { ...options, finiteDifferences });
      if (run === 0) values[Number(finiteDifferences)] = result.value;
    }),
  );
  const own = timesOf(20, () => {
    refine(objective, start, bounds, { maxIterations: 5, tolerance: 0 });
  });
  line(`finish of ${filters.length} bands, 5 iterations of the library, analytic Jacobian`, analytic!);
  line('the same with its finite differences', finite!, `${ratio(finite!, analytic!)} the analytic one`);
  line('5 iterations of our own kernel', own, `the library takes ${ratio(analytic!, own)} as long`);
  const rms = (value: number) => Math.sqrt(value).toFixed(4);
  console.log(
    `  (error by the way: ${rms(objectiveValue(objective, start))} dB before, ` +
      `${rms(values[0]!)} dB analytic, ${rms(values[1]!)} dB by differences)`,
  );
}

function benchReading(): string {
  const rows = Array.from(
    { length: ROWS },
    (_, i) => `${(((i + 1) * 24000) / ROWS).toFixed(4)}\t${(80 + 3 * Math.sin(i / 300)).toFixed(3)}`,
  );
  const text = `# simulated\n${rows.join('\n')}\n`;
  const bytes = new TextEncoder().encode(text);
  const read = timesOf(20, () => {
    readMeasurementText(bytes, 'simulated.txt');
  });
  const plain = timesOf(20, () => {
    for (const row of text.split('\n')) row.split('\t').map(Number);
  });
  line(
    `reading a text of ${ROWS.toLocaleString('en')} rows`,
    read,
    `${ratio(read, plain)} a bare split without any check`,
  );
  return text;
}

function benchProgram(text: string): void {
  const program = join(root, 'dist/cli/main.js');
  if (!existsSync(program)) {
    console.log('whole process of fit: not measured, the program is not built (npm run build)');
    return;
  }
  const folder = mkdtempSync(join(tmpdir(), 'nullwise-bench-'));
  try {
    const long = join(folder, 'long.txt');
    writeFileSync(long, text);
    const demo = join(root, 'fixtures/demo/position-1.txt');
    const process5 = (args: readonly string[]) =>
      wholeProcess(5, () => {
        const { status, stderr } = spawnSync(process.execPath, args, { encoding: 'utf8' });
        if (status !== 0) throw new Error(stderr);
      });
    const bare = process5(['-e', '0']);
    const help = process5([program, '--help']);
    const fit = process5([program, 'fit', demo, '--bands', '10', '--quiet']);
    const fitLong = process5([program, 'fit', long, '--bands', '10', '--quiet']);
    line('an empty Node process, median of 5', bare);
    line('nullwise --help', help, `${ratio(help, bare)} the empty process`);
    line('nullwise fit of the demo, 10 bands, whole process', fit, `${ratio(fit, bare)} the empty process`);
    line(`the same of ${ROWS.toLocaleString('en')} rows`, fitLong);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** Of other processes only the wall clock is known. */
function wholeProcess(runs: number, work: () => void): Times {
  return { ms: timesOf(runs, work).ms, cpuMs: Number.NaN };
}

function commit(): string {
  try {
    return execFileSync('git', ['rev-parse', '--short', 'HEAD'], { cwd: root, encoding: 'utf8' }).trim();
  } catch {
    return 'unknown commit';
  }
}

console.log(
  `Node ${process.version}, ${cpus().length} × ${cpus()[0]?.model.trim() ?? 'unknown'}, ${commit()}\n`,
);
benchFits();
benchFirstGood();
benchBeside();
benchBatch();
console.log();
benchPolish();
console.log();
const text = benchReading();
console.log();
benchProgram(text);
console.log(`
How to read this: medians; the wall clock depends on what else the machine does, the time on the processor hardly.
Compare only figures of one run on one machine. Ratios say more, since both sides were measured in the same run; where
processor time is known they are of that. Fits differ in how soon the search has nothing left to win, so the first
figure stands for 20 different curves and not for one.`);
