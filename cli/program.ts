import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Command } from 'commander';
import { addBatch } from './commands/batch.js';
import { addDeconvolve } from './commands/deconvolve.js';
import { addDemo } from './commands/demo.js';
import { addDiagnose } from './commands/diagnose.js';
import { addExport } from './commands/export.js';
import { addFit } from './commands/fit.js';
import { addPredict } from './commands/predict.js';
import { addRender } from './commands/render.js';
import { addResponse } from './commands/response.js';
import { addSchema } from './commands/schema.js';
import { addSweep } from './commands/sweep.js';
import { addVerify } from './commands/verify.js';
import { addWeb } from './commands/web.js';
import { packageRoot } from './io/packageRoot.js';
import { paint, print } from './io/terminal.js';
import { refuseRepeats } from './refuseRepeats.js';

const HELP = `
nullwise <command> --help tells what goes in and comes out, with examples. To begin with:

  nullwise demo
  nullwise fit measurement.txt --setup setup.json --out result/`;

/** The command line with all its commands. It throws a CommanderError instead of ending the process. */
export function createProgram(): Command {
  const manifest = JSON.parse(readFileSync(join(packageRoot(), 'package.json'), 'utf8')) as {
    readonly version: string;
    readonly description: string;
  };
  const program = new Command('nullwise')
    .description(manifest.description)
    .version(manifest.version)
    .exitOverride()
    .configureOutput({
      writeOut: print,
      outputError: (text, write) => write(paint(process.stderr, 'red', text)),
    })
    .showHelpAfterError('(--help lists what is known)')
    .addHelpText('after', HELP);
  addFit(program);
  addDiagnose(program);
  addPredict(program);
  addResponse(program);
  addSweep(program);
  addDeconvolve(program);
  addExport(program);
  addVerify(program);
  addRender(program);
  addBatch(program);
  addDemo(program);
  addWeb(program);
  addSchema(program);
  program.commands.forEach(refuseRepeats);
  return program;
}
