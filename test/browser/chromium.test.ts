import { expect, test } from 'vitest';
import { chromiumPath } from './chromium.js';

test('CHROMIUM_PATH goes before every other place', () => {
  expect(chromiumPath({ CHROMIUM_PATH: process.execPath }, () => '/elsewhere')).toBe(process.execPath);
});

test('a CHROMIUM_PATH without a file behind it is refused with the path in the message', () => {
  expect(() => chromiumPath({ CHROMIUM_PATH: '/no/such/browser' }, () => '/elsewhere')).toThrow(
    /CHROMIUM_PATH names \/no\/such\/browser/,
  );
});

test('where no Chromium is found the message says what to install', () => {
  expect(() => chromiumPath({}, () => undefined)).toThrow(/apt-get install chromium.*\n.*CHROMIUM_PATH/);
});
