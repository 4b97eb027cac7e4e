import { conventionFor } from '../../filter/qConventions.js';
import type { Design } from '../../schema/design.js';
import { cleanText } from './cleanText.js';
import { filterTypeName } from './filterTypeName.js';
import { fixedDecimals } from './fixedDecimals.js';
import { joinWords } from './joinWords.js';

/** The device in words: its name and what rounding to it cost; undefined where the design is for none. */
export function deviceCostWords({ device, deviceCost: cost }: Design): string | undefined {
  if (!device) return undefined;
  if (cost === undefined) return cleanText(device.name);
  const without = fixedDecimals(cost.unroundedRmsDb, 2);
  const withIt = fixedDecimals(cost.roundedRmsDb, 2);
  // The difference of what is shown, so that the three figures agree.
  const costs = fixedDecimals(Number(withIt) - Number(without), 2);
  return `${cleanText(device.name)}; rounding to it costs ${costs} dB RMS (${without} dB without, ${withIt} dB with it)`;
}

/** What is to be entered into the column "To enter"; undefined where that is the cookbook's Q. */
export function deviceQWords({ device, deviceSettings = [] }: Design): string | undefined {
  if (!device || device.qConvention === 'cookbook') return undefined;
  const types = [...new Set(deviceSettings.map(({ type }) => type))];
  const meanings = types.map((type) => conventionFor(device.qConvention, type).words);
  const all = [...new Set(meanings)];
  // Types that mean the same are told together.
  return all
    .map((words) => {
      if (all.length === 1) return words;
      const named = types.filter((_, i) => meanings[i] === words).map(filterTypeName);
      return `${joinWords(named.map((name, i) => (i === 0 ? name : name.toLowerCase())))}: ${words}`;
    })
    .join('. ');
}
