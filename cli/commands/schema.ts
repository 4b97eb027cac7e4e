import { Argument, type Command } from 'commander';
import { jsonSchema, type SchemaName, schemaNames } from '../../src/schema/jsonSchema.js';
import { openTerminal } from '../io/terminal.js';

/** `nullwise schema`: the JSON Schema of a file format. */
export function addSchema(program: Command): void {
  program
    .command('schema')
    .summary('print the JSON Schema of a file format')
    .description('Prints the JSON Schema (draft 2020-12) of a file that Nullwise reads or writes.')
    .addArgument(new Argument('<name>', 'which file').choices(schemaNames))
    .action((name: SchemaName) => {
      openTerminal({ json: true }).result(JSON.stringify(jsonSchema(name), null, 2));
    });
}
