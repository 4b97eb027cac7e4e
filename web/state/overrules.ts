import type { Finding, Verdict } from '../../src/diagnosis/verdict/finding.js';
import { overruledIndex } from '../../src/pipeline/overruleFindings.js';
import type { Overrule } from '../store/project.js';
import { outcome } from './found.js';
import { project } from './present.js';
import { change } from './session.js';

type Named = Pick<Finding, 'frequencyHz'>;

/** The verdict that was given by hand on a finding, if any. */
export function overruleOf(finding: Named): Overrule | undefined {
  const findings = outcome.value?.design.findings ?? [];
  return project.value.overrules.find(
    (overrule) => findings[overruledIndex(findings, overrule)]?.frequencyHz === finding.frequencyHz,
  );
}

/** Gives a verdict by hand; undefined takes it back. */
export function overrule(finding: Named, verdict: Verdict | undefined, note: string): void {
  const before = overruleOf(finding);
  change(
    verdict ? 'give a verdict by hand' : 'take back a verdict given by hand',
    (value) => {
      const others = value.overrules.filter((each) => each !== before);
      return {
        ...value,
        overrules: verdict ? [...others, { frequencyHz: finding.frequencyHz, verdict, note }] : others,
      };
    },
    { refit: true },
  );
}
