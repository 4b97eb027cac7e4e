import { pow2 } from '../../elementary/exponential.js';
import { fingerprint } from '../../elementary/fingerprint.js';
import type { Correction } from '../../schema/correction.js';
import { stableJson } from '../json/stableJson.js';
import { csvField } from '../tables/csvField.js';
import { cleanText } from '../words/cleanText.js';
import { filterTypeName } from '../words/filterTypeName.js';
import { qConventionWords } from '../words/qConventionWords.js';
import { cName } from './cName.js';
import {
  type CoefficientForm,
  differenceEquation,
  formatName,
  type StoredSection,
  type StoredSections,
} from './storedSections.js';

/** What the filters of a section are, in one line of ASCII. */
function sectionName({ sections }: StoredSections, i: number): string {
  const { type, frequencyHz, gainDb, q } = sections[i]!.filter;
  const hz = Number(frequencyHz.toPrecision(6));
  return `${filterTypeName(type)}, ${hz} Hz, ${gainDb} dB, Q ${Number(q.toPrecision(6))}`;
}

/** The lines that every text of coefficients begins with. */
function heading(design: Correction, form: CoefficientForm): string[] {
  return [
    ascii(`Correction coefficients: ${cleanText(design.title)}`),
    `Difference equation (a0 = 1): ${differenceEquation(form.feedbackSign)}`,
    `Order of the numbers: ${form.order.join(', ')}`,
    form.fixedPoint
      ? `Format: fixed point ${formatName(form.fixedPoint)}, two's complement, ${form.fixedPoint.integerBits} integer ${form.fixedPoint.integerBits === 1 ? 'bit' : 'bits'} with the sign, ${form.fixedPoint.fractionBits} fraction bits`
      : 'Format: floating point',
    `Meaning of Q: ${qConventionWords}`,
    'Multiply the signal by the input gain, then pass it through all sections one after another.',
  ];
}

/** Comments stay within ASCII, and can neither end a comment nor begin one, nor spell a trigraph. */
function ascii(text: string): string {
  return text
    .replace(/[^\x20-\x7e]/g, '?')
    .replaceAll('\\', '/')
    .replace(/\*(?=\/)|\/(?=\*)|\?(?=\?)/g, '$& ');
}

/** How well a section of words stands for its filter; nothing to say of floating point. */
function precision({ maxErrorDb, poleRadius }: StoredSection): string {
  if (maxErrorDb === undefined || poleRadius === undefined) return '';
  return `; off by at most ${maxErrorDb.toFixed(4)} dB, pole radius ${poleRadius.toFixed(6)}`;
}

export function coefficientsAsJson(
  design: Correction,
  form: CoefficientForm,
  rates: readonly StoredSections[],
): string {
  return stableJson({
    schemaVersion: 1,
    title: cleanText(design.title),
    qConvention: qConventionWords,
    differenceEquation: differenceEquation(form.feedbackSign),
    feedbackSign: form.feedbackSign,
    order: form.order,
    format: form.fixedPoint ? { type: 'fixed', ...form.fixedPoint } : { type: 'float' },
    rates: rates.map(({ sampleRateHz, inputGainDb, inputGainLinear, sections }) => ({
      sampleRateHz,
      inputGainDb,
      inputGainLinear,
      sections: sections.map(({ filter, values, words, hex, maxErrorDb, poleRadius }) => ({
        filter,
        coefficients: Object.fromEntries(form.order.map((name, k) => [name, values[k]])),
        words,
        hex,
        maxErrorDb,
        poleRadius,
      })),
    })),
  });
}

/** One row a section under a header, RFC 4180; equation, Q and units are in the header. */
export function coefficientsAsCsv(form: CoefficientForm, rates: readonly StoredSections[]): string {
  const header = [
    'sample rate (Hz)',
    'input gain (dB)',
    'section',
    'type',
    'frequency (Hz)',
    'gain (dB)',
    `Q [${qConventionWords}]`,
    ...form.order,
    ...(form.fixedPoint
      ? [
          ...form.order.map((name) => `${name} (hex ${formatName(form.fixedPoint!)})`),
          'off by at most (dB)',
          'pole radius',
        ]
      : []),
    differenceEquation(form.feedbackSign),
  ];
  const rows = rates.flatMap(({ sampleRateHz, inputGainDb, sections }) =>
    sections.map(({ filter, values, hex = [], maxErrorDb, poleRadius }, i) => [
      String(sampleRateHz),
      String(inputGainDb),
      String(i + 1),
      filterTypeName(filter.type),
      String(filter.frequencyHz),
      String(filter.gainDb),
      String(filter.q),
      ...values.map(String),
      // Without the prefix a spreadsheet takes 01E10 for a number.
      ...hex.map((word) => `0x${word}`),
      ...(form.fixedPoint ? [maxErrorDb!.toFixed(4), poleRadius!.toFixed(6)] : []),
      '',
    ]),
  );
  return [header, ...rows].map((row) => `${row.map(csvField).join(',')}\r\n`).join('');
}

/** Words in hexadecimal, one section a line, under lines that say what they are. */
export function coefficientsAsHex(
  design: Correction,
  form: CoefficientForm,
  rates: readonly StoredSections[],
): string {
  const lines = rates.flatMap((rate) => [
    '',
    `# ${rate.sampleRateHz} Hz, input gain ${rate.inputGainDb} dB`,
    ...rate.sections.flatMap((section, i) => [
      `# ${i + 1}: ${sectionName(rate, i)}${precision(section)}`,
      section.hex!.map((word) => `0x${word}`).join(' '),
    ]),
  ]);
  return `${[...heading(design, form).map((line) => `# ${line}`), ...lines].join('\n')}\n`;
}

/**
 * A header for C99 and C++: one array of sections for each sample rate. Guard and names hold the title, so that the headers
 * of designs with titles of their own go into one file.
 */
export function coefficientsAsC(
  design: Correction,
  form: CoefficientForm,
  rates: readonly StoredSections[],
): string {
  const bits = form.fixedPoint ? form.fixedPoint.integerBits + form.fixedPoint.fractionBits : 0;
  const type = bits === 0 ? 'double' : bits <= 32 ? 'int32_t' : 'int64_t';
  const name = cName(design.title);
  const number = (value: number) =>
    bits === 0 ? decimal(value) : bits <= 32 ? String(value) : `INT64_C(${value})`;
  const arrays = rates.flatMap((rate) => {
    const prefix = `nullwise_${name}_${String(rate.sampleRateHz).replace('.', '_')}`;
    const rows = rate.sections.map(
      (section, i) =>
        `  { ${(section.words ?? section.values).map(number).join(', ')} }, /* ${sectionName(rate, i)}${precision(section)} */`,
    );
    // C has no arrays of length 0; the count says that there is no section.
    const none = `  { ${form.order.map((each) => number(each === 'b0' ? pow2(form.fixedPoint?.fractionBits ?? 0) : 0)).join(', ')} },`;
    return [
      '',
      `/* ${rate.sampleRateHz} Hz */`,
      `static const double ${prefix}_input_gain = ${decimal(rate.inputGainLinear)}; /* ${rate.inputGainDb} dB */`,
      `enum { ${prefix}_section_count = ${rate.sections.length} };`,
      `static const ${type} ${prefix}_sections[${Math.max(1, rows.length)}][5] = {`,
      ...(rows.length > 0 ? rows : [none]),
      '};',
    ];
  });
  const body = [
    ...(form.fixedPoint
      ? [
          '',
          '#include <stdint.h>',
          '',
          '/* value = word / 2^fraction_bits */',
          `enum { nullwise_${name}_fraction_bits = ${form.fixedPoint.fractionBits} };`,
        ]
      : []),
    ...arrays,
    '',
  ];
  // Of two designs with one title the second must not be skipped: the compiler then stops at names given twice.
  const guard = `NULLWISE_${name}_${fingerprint(body.join('\n'))}_H`;
  return `${[
    '/*',
    ...heading(design, form).map((line) => ` * ${line}`),
    ' */',
    `#ifndef ${guard}`,
    `#define ${guard}`,
    ...body,
    '#endif',
  ].join('\n')}\n`;
}

/** Every digit of a double, with a point so that C takes it for one. */
function decimal(value: number): string {
  const text = String(value);
  return /[.e]/.test(text) ? text : `${text}.0`;
}
