import { expect, test } from 'vitest';
import { filterTable } from '../../../src/export/tables/filterTable.js';
import { hostileDesign } from '../hostileDesign.js';
import { sampleDesign } from '../sampleDesign.js';

test('every filter stands in one row with its type in words and all its digits', () => {
  const design = sampleDesign();
  const rows = filterTable(design)
    .split('\n')
    .map((line) => line.match(/^ *(\d+) {2}(Peaking|Low shelf|High shelf) +([\d.]+) +(-?[\d.]+) +([\d.]+)$/))
    .filter((match) => match !== null);
  const names = { peaking: 'Peaking', lowShelf: 'Low shelf', highShelf: 'High shelf' };
  expect(rows.map((match) => [match[2], Number(match[3]), Number(match[4]), Number(match[5])])).toEqual(
    design.filters.map((filter) => [names[filter.type], filter.frequencyHz, filter.gainDb, filter.q]),
  );
  expect(rows.map((match) => Number(match[1]))).toEqual(design.filters.map((_, i) => i + 1));
});

test('what else has to be set stands above the table, units in the headings', () => {
  const text = filterTable({ ...sampleDesign(), inputGainDb: -3.25, sampleRateHz: 44100 });
  expect(text).toContain('Sample rate: 44100 Hz');
  expect(text).toContain('Input gain:  -3.25 dB');
  expect(text).toContain('Audio EQ Cookbook Q');
  expect(text).toMatch(/No\. +Type +Frequency \(Hz\) +Gain \(dB\) +Q\n/);
});

test('what the filters fit is said of one position or of several', () => {
  const each = ['a.txt', 'b.txt'].map((name) => ({ name, beforeRmsDb: 2, afterRmsDb: 1 }));
  const positions = { aim: 'mean' as const, worstBeforeRmsDb: 2, worstAfterRmsDb: 1, each };
  const said = [sampleDesign(), { ...sampleDesign(), positions }].map((design) =>
    filterTable(design).replace(/\s+/g, ' '),
  );
  expect(said[0]).toContain('the place and the microphone position that were measured');
  expect(said[1]).toContain('the place and the microphone positions that were measured');
});

test('the cautions follow the table', () => {
  const text = filterTable(sampleDesign());
  for (const word of [
    'Hearing',
    'Drivers',
    'double the power',
    'stays closed',
    'local codes',
    "maker's ratings",
  ]) {
    expect(text.replace(/\s+/g, ' ')).toContain(word);
  }
});

test('a design without filters says so and shows no empty table', () => {
  const text = filterTable({ ...sampleDesign(), filters: [], inputGainDb: 0 });
  expect(text).toContain('No filters: leave the equalizer flat.');
  expect(text).not.toContain('Frequency (Hz)');
  expect(text).not.toContain('work one after another');
  expect(filterTable(sampleDesign())).toContain('work one after another');
});

test('no line is wider than 80 characters and nothing in a title moves the cursor', () => {
  const text = filterTable({ ...hostileDesign(), title: `${'long '.repeat(40)}\u001b[2J` });
  for (const line of text.split('\n')) expect(line.length).toBeLessThanOrEqual(80);
  expect(text).not.toMatch(/[^\P{Cc}\n]/u);
});
