import { expect, test } from 'vitest';
import { filterCsv } from '../../../src/export/tables/filterCsv.js';
import { sampleDesign } from '../sampleDesign.js';

test('the header names units and every row gives back the filter exactly', () => {
  const design = { ...sampleDesign() };
  design.filters = [...design.filters, { type: 'lowShelf', frequencyHz: 1 / 3, gainDb: -0.1 + 0.3, q: 1e-7 }];
  const csv = filterCsv(design);
  expect(csv.endsWith('\r\n')).toBe(true);
  const lines = csv.trimEnd().split('\r\n');
  expect(lines[0]).toBe('number,type,frequency (Hz),gain (dB),Q [cookbook],sample rate (Hz),input gain (dB)');
  for (const line of lines.slice(1)) {
    expect(line.split(',').slice(5)).toEqual([String(design.sampleRateHz), String(design.inputGainDb)]);
  }
  const types = { Peaking: 'peaking', 'Low shelf': 'lowShelf', 'High shelf': 'highShelf' } as const;
  const filters = lines.slice(1).map((line) => {
    const [, type, frequencyHz, gainDb, q] = line.split(',');
    return {
      type: types[type as keyof typeof types],
      frequencyHz: Number(frequencyHz),
      gainDb: Number(gainDb),
      q: Number(q),
    };
  });
  expect(filters).toEqual(design.filters);
});

test('a design without filters is the header alone', () => {
  expect(filterCsv({ ...sampleDesign(), filters: [] })).toBe(
    'number,type,frequency (Hz),gain (dB),Q [cookbook],sample rate (Hz),input gain (dB)\r\n',
  );
});

test('for a device the band and what to enter stand beside the cookbook Q, with their meaning', () => {
  const design = { ...sampleDesign() };
  design.filters = [
    { type: 'peaking', frequencyHz: 100, gainDb: -6, q: 2 },
    { type: 'lowShelf', frequencyHz: 200, gainDb: 3, q: 0.7 },
  ];
  const bank = `${design.sampleRateHz},${design.inputGainDb}`;
  const device = { name: 'x', sampleRatesHz: [48000] };
  design.deviceSettings = [
    { band: 2, type: 'peaking', frequencyHz: 100, gainDb: -6, q: 0.7 },
    { band: 1, type: 'lowShelf', frequencyHz: 200, gainDb: 3, q: 0.7 },
  ];
  expect(
    filterCsv({ ...design, device: { ...device, qConvention: 'bandwidthOctaves' } }).split('\r\n'),
  ).toEqual([
    'number,type,frequency (Hz),gain (dB),Q [cookbook],band,to enter,meaning of what to enter,sample rate (Hz),input gain (dB)',
    `1,Peaking,100,-6,2,2,0.7,bandwidthOctaves (octaves),${bank}`,
    `2,Low shelf,200,3,0.7,1,0.7,cookbook,${bank}`,
    '',
  ]);
  expect(filterCsv({ ...design, device: { ...device, qConvention: 'cookbook' } }).split('\r\n')[1]).toBe(
    `1,Peaking,100,-6,2,2,${bank}`,
  );
});
