import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Command } from 'commander';
import { helpText } from '../helpText.js';
import { packageRoot } from '../io/packageRoot.js';
import { addOutputOptions, type OutputFlags } from '../options.js';
import { runDesign } from '../runDesign.js';

const TITLE = 'Demo: a small two-way speaker on a desk near the wall (simulated)';
const FOLDER = join('result', 'demo');

const HELP = helpText({
  takes: 'nothing: four positions, two other placements and a set-up come with Nullwise, all simulated.',
  gives: `what fit gives with --shelf-q-max 0.71, with its files in ${FOLDER}; those of an earlier demo are overwritten.`,
  examples: ['nullwise demo', 'nullwise demo --out elsewhere/ --quiet'],
});

interface DemoFlags extends OutputFlags {
  readonly out: string;
  readonly force?: boolean;
}

/** `nullwise demo`: the main job on the simulated demo scenario. It overwrites its own earlier output. */
export function addDemo(program: Command): void {
  const command = program
    .command('demo')
    .summary('design a correction for the simulated demo scenario')
    .description(
      'Runs the main job on the demo scenario that comes with Nullwise; all its data are simulated.',
    )
    .option('--out <folder>', 'where to leave design, filters, coefficients, drawing and report', FOLDER)
    .option('--force', 'overwrite files that are not from an earlier demo');
  addOutputOptions(command)
    .addHelpText('after', HELP)
    .action(async (flags: DemoFlags) => {
      const { paths, files } = demoInputs();
      await runDesign(
        {
          paths,
          asked: files,
          out: flags.out,
          overwrite: Boolean(flags.force) || isEarlierDemo(flags.out),
        },
        flags,
      );
    });
}

function demoInputs() {
  const file = (name: string) => join(packageRoot(), 'fixtures', 'demo', name);
  return {
    paths: ['position-1.txt', 'position-2.txt', 'position-3.txt', 'position-4.txt'].map(file),
    files: {
      title: TITLE,
      setup: file('setup.json'),
      moved: ['moved-4-cm.txt', 'moved.txt'].map(file),
      ...(JSON.parse(readFileSync(file('options.json'), 'utf8')) as Record<string, number>),
    },
  };
}

function isEarlierDemo(folder: string): boolean {
  try {
    const design = JSON.parse(readFileSync(join(folder, 'design.json'), 'utf8')) as { title?: unknown };
    return design.title === TITLE;
  } catch {
    return false;
  }
}
