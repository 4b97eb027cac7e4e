import { expect, test } from 'vitest';
import { gather } from '../../cli/gather.js';
import { InputError } from '../../src/inputError.js';

const fails = (message: string) => () => {
  throw new InputError(message);
};

test('gather runs every task and throws the messages of all that failed, each once', () => {
  const done: string[] = [];
  const tasks = [fails('one'), () => done.push('between'), fails('two'), fails('one')];
  expect(() => gather(tasks)).toThrow(new InputError('one\ntwo'));
  expect(done).toEqual(['between']);
});

test('gather lets a fault of the program through at once', () => {
  const broken = () => {
    throw new TypeError('ours');
  };
  expect(() => gather([fails('one'), broken, fails('two')])).toThrow(TypeError);
});

test('gather of tasks that all work throws nothing', () => {
  expect(() => gather([() => {}, () => {}])).not.toThrow();
});
