import { Argument, type Command } from 'commander';
import { jsonSchema, type SchemaName, schemaNames } from '../../src/schema/jsonSchema.js';
import { helpText } from '../helpText.js';
import { openTerminal } from '../io/terminal.js';

const HELP = helpText({
  takes: 'the name of a file format.',
  gives: 'its JSON Schema on standard output, for editors that check and complete as you type.',
  examples: ['nullwise schema setup', 'nullwise schema design'],
});

/** `nullwise schema`: the JSON Schema of a file format. */
export function addSchema(program: Command): void {
  program
    .command('schema')
    .summary('print the JSON Schema of a file format')
    .description('Prints the JSON Schema (draft 2020-12) of a file that Nullwise reads or writes.')
    .addArgument(new Argument('<name>', 'which file').choices(schemaNames))
    .addHelpText('after', HELP)
    .action((name: SchemaName) => {
      openTerminal({ json: true }).result(JSON.stringify(jsonSchema(name), null, 2));
    });
}
