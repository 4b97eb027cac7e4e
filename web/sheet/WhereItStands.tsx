import { useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { errorPair } from '../../src/export/words/errorPair.js';
import { joinWords } from '../../src/export/words/joinWords.js';
import { typeset } from '../../src/export/words/typeset.js';
import type { Design } from '../../src/schema/design.js';
import { formatFrequency } from '../../src/units/formatFrequency.js';
import { selectedHz } from '../chart/chartState.js';
import '../placement/placement.css';
import { DescribePlace } from '../placement/DescribePlace.js';
import { PlacementPlan } from '../placement/PlacementPlan.js';
import {
  correctSetup,
  describeSetup,
  expectMoves,
  isElsewhere,
  movedDesign,
  moveSpeaker,
  placed,
} from '../state/elsewhere.js';
import { explained } from '../state/found.js';
import { setup, shown } from '../state/shown.js';
import { ExampleFile } from './ExampleFile.js';
import { EXAMPLE_SETUP } from './exampleSetup.js';
import { Step } from './Step.js';

/** Where the speaker stands, and what would be elsewhere. */
export function WhereItStands() {
  const box = useRef<HTMLDivElement>(null);
  const bySurface = useSignal<string | undefined>(undefined);
  const where = placed.value;
  const design = shown.value;
  useEffect(() => {
    if (!box.current) return;
    const watch = new IntersectionObserver((entries) => {
      if (entries.some(({ isIntersecting }) => isIntersecting)) expectMoves();
    });
    watch.observe(box.current);
    return () => watch.disconnect();
  }, [where !== undefined]);
  if (!where) {
    return (
      <Step id="stands" title="Where the speaker stands">
        <p class="soft">
          Nothing is known of walls and distances. With them the program judges more surely, and a plan stands
          here on which the speaker can be moved.
        </p>
        <details class="screen-only" open={shown.value !== undefined}>
          <summary>Type the distances</summary>
          <DescribePlace onChange={describeSetup} />
        </details>
        <ExampleFile
          summary="Or drop a set-up file: how one looks"
          name="set-up.json"
          text={EXAMPLE_SETUP}
          words="Put your own distances in place of these. The baffle width, the temperature and the room may be left out; each surface has its distances from the speaker's front and from the microphone."
        />
      </Step>
    );
  }
  const behind = design?.findings.find(({ frequencyHz }) => frequencyHz === selectedHz.value)?.cause.surface;
  return (
    <Step
      id="stands"
      title="Where the speaker stands"
      lead="Move the speaker on the plan: what it would measure there shows on the chart. That is a forecast of the whole curve; the advice beside a dip follows that dip alone, so another place, a nearer one too, may be better. Nothing of what you measured changes."
    >
      <div ref={box}>
        <h3 class="unseen">The plan</h3>
        <PlacementPlan
          setup={where}
          measuredAt={setup.value}
          scene={explained.value}
          onHighlight={(name) => {
            bySurface.value = name;
          }}
          highlighted={bySurface.value ?? behind}
          onChange={(to, done, kind) => (kind === 'corrected' ? correctSetup(to) : moveSpeaker(to, done))}
          whatIf={isElsewhere.value ? <Comparison /> : undefined}
        />
      </div>
    </Step>
  );
}

function dipsToMove({ findings }: Design): string {
  const dips = findings.filter(({ verdict, kind }) => verdict === 'move' && kind === 'dip');
  return dips.length === 0 ? 'none' : joinWords(dips.map(({ frequencyHz }) => formatFrequency(frequencyHz)));
}

/** Here and there, side by side. */
function Comparison() {
  const here = shown.value;
  const there = movedDesign.value;
  if (!here || !there) return <p role="status">Working out what would be there …</p>;
  const pair = ({ errorWithZones: { beforeRmsDb, afterRmsDb } }: Design) => {
    const { before, after } = errorPair(beforeRmsDb, afterRmsDb);
    return `${before} → ${after} dB`;
  };
  return (
    <table class="numbers">
      <caption>Reckoned from the distances, with a short search; measure there to know.</caption>
      <thead>
        <tr>
          <th scope="col">
            <span class="unseen">What</span>
          </th>
          <th scope="col">Where it was measured</th>
          <th scope="col">There</th>
        </tr>
      </thead>
      <tbody>
        <tr>
          <th scope="row">Error, all of it, without → with filters</th>
          <td>{typeset(pair(here))}</td>
          <td>{typeset(pair(there))}</td>
        </tr>
        <tr>
          <th scope="row">Dips that only moving mends</th>
          <td>{typeset(dipsToMove(here))}</td>
          <td>{typeset(dipsToMove(there))}</td>
        </tr>
        <tr>
          <th scope="row">Filters</th>
          <td>{here.filters.length}</td>
          <td>{there.filters.length}</td>
        </tr>
      </tbody>
    </table>
  );
}
