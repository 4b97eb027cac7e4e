import { useEffect } from 'preact/hooks';
import { Board } from './chart/Board.js';
import { DropLayer } from './intake/DropLayer.js';
import { QuestionDialog } from './intake/QuestionDialog.js';
import { Guard } from './sheet/Guard.js';
import { HandOver } from './sheet/HandOver.js';
import { Masthead } from './sheet/Masthead.js';
import { ShouldBe } from './sheet/ShouldBe.js';
import { ToSet } from './sheet/ToSet.js';
import { WasMeasured } from './sheet/WasMeasured.js';
import { WhereItStands } from './sheet/WhereItStands.js';
import { WillGive } from './sheet/WillGive.js';
import { WrongAndWhy } from './sheet/WrongAndWhy.js';
import { worksheet } from './state/present.js';
import { redoChange, undoChange } from './state/session.js';
import { shown } from './state/shown.js';

/** The worksheet, from top to bottom. */
export function App() {
  useEffect(() => {
    const pressed = (event: KeyboardEvent) => {
      if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
      const key = event.key.toLowerCase();
      if (key !== 'z' && key !== 'y') return;
      // What is being typed has its own undo, until it is taken.
      const target = event.target as HTMLElement;
      if (target.matches('input[type="text"]:not([data-typing="false"]), textarea')) return;
      event.preventDefault();
      if (key === 'y' || event.shiftKey) redoChange();
      else undoChange();
    };
    document.addEventListener('keydown', pressed);
    return () => document.removeEventListener('keydown', pressed);
  }, []);
  return (
    <>
      <a class="skip" href="#measured">
        To the worksheet
      </a>
      <Masthead />
      <main>
        <Guard what="The chart">
          <Board />
        </Guard>
        <div class={`steps ${shown.value ? '' : 'without'}`} key={worksheet.value}>
          <Guard what="What was measured">
            <WasMeasured />
          </Guard>
          <Guard what="What it should be">
            <ShouldBe />
          </Guard>
          <Guard what="What is wrong">
            <WrongAndWhy />
          </Guard>
          <Guard what="Where the speaker stands">
            <WhereItStands />
          </Guard>
          <Guard what="What to set">
            <ToSet />
          </Guard>
          <Guard what="What that will give">
            <WillGive />
          </Guard>
          <Guard what="Handing over">
            <HandOver />
          </Guard>
        </div>
      </main>
      <footer>
        <p>
          All of this happens in your browser; nothing is sent anywhere. Worksheets are kept in this browser
          until you remove them.
        </p>
      </footer>
      <DropLayer />
      <QuestionDialog />
    </>
  );
}
