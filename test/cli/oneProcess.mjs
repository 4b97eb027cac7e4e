// Runs one command line after another in one process, since starting one for each takes longer than most of the work.
import { run } from '../../dist/cli/run.js';

process.stdout.setMaxListeners(0);
process.on('message', async ({ args, cwd }) => {
  process.chdir(cwd);
  const said = { stdout: '', stderr: '' };
  const streams = /** @type {const} */ (['stdout', 'stderr']);
  const written = streams.map((name) => process[name].write);
  for (const name of streams) {
    process[name].write = (text) => {
      said[name] += text;
      return true;
    };
  }
  const code = await run(args);
  for (const [i, name] of streams.entries()) process[name].write = written[i];
  process.send?.({ code, ...said });
});
