import type { Design } from '../../schema/design.js';
import { allowedLimit } from '../words/allowedLimits.js';
import { boostWords } from '../words/boostWords.js';
import { cleanText } from '../words/cleanText.js';
import { conclusion } from '../words/conclusion.js';
import { errorPair } from '../words/errorPair.js';
import { formatInputGain } from '../words/formatInputGain.js';
import { typeset } from '../words/typeset.js';
import { BeyondEqSection } from './BeyondEqSection.js';
import { FiltersSection } from './FiltersSection.js';
import { FindingsSection } from './FindingsSection.js';
import { isSimulated } from './isSimulated.js';
import { LimitsSection } from './LimitsSection.js';
import { PlotSection } from './PlotSection.js';
import { RemainsSection } from './RemainsSection.js';
import { reportStyle } from './reportStyle.js';
import { CautionsSection, WarningsSection } from './WarningsSection.js';

interface ReportPageProps {
  readonly design: Design;
  readonly policy: string;
  /** Scripts in the order in which they run, already fit for a `<script>` element. */
  readonly scripts: readonly string[];
  /** The figure as JSON fit for a `<script>` element. */
  readonly figureJson: string;
  readonly generatedBy?: string;
}

/** The whole report as one document. */
export function ReportPage({ design, policy, scripts, figureJson, generatedBy }: ReportPageProps) {
  const title = cleanText(design.title) || 'Measured speaker';
  const rms = errorPair(design.unevenness.beforeRmsDb, design.unevenness.afterRmsDb);
  const max = errorPair(design.error.beforeMaxDb, design.error.afterMaxDb);
  const figures: (readonly [string, string])[] = [
    ['Unevenness, RMS', `${rms.before} → ${rms.after} dB`],
    ['Greatest error', `${max.before} → ${max.after} dB`],
    ['Bands', `${design.filters.length} of ${allowedLimit(design, 'bands').value}`],
    ['Most boost', boostWords(design)],
    ['Input gain', formatInputGain(design.inputGainDb)],
  ];
  return (
    <html lang="en">
      <head>
        <meta charset="utf-8" />
        <meta http-equiv="Content-Security-Policy" content={policy} />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <meta name="referrer" content="no-referrer" />
        <title>{`${title}: correction report`}</title>
        <style dangerouslySetInnerHTML={{ __html: reportStyle }} />
      </head>
      <body>
        <header>
          <p class="kicker">Loudspeaker correction report</p>
          <h1>{title}</h1>
          {isSimulated(design) ? <p class="stamp">Simulated data, not a measurement</p> : null}
          <p class="conclusion">{typeset(conclusion(design))}</p>
          <dl class="figures">
            {figures.map(([name, value]) => (
              <div>
                <dt>{name}</dt>
                <dd>{typeset(value)}</dd>
              </div>
            ))}
          </dl>
        </header>
        <main>
          <PlotSection design={design} />
          <FindingsSection design={design} />
          <FiltersSection design={design} />
          <RemainsSection design={design} />
          <BeyondEqSection design={design} />
          <LimitsSection design={design} />
          <WarningsSection design={design} />
          <CautionsSection />
        </main>
        {generatedBy === undefined ? null : <footer>{`Made by ${cleanText(generatedBy)}.`}</footer>}
        <script type="application/json" id="plot-data" dangerouslySetInnerHTML={{ __html: figureJson }} />
        {scripts.map((script) => (
          <script dangerouslySetInnerHTML={{ __html: script }} />
        ))}
      </body>
    </html>
  );
}
