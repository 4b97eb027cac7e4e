import { useEffect } from 'preact/hooks';
import { Board } from './chart/Board.js';
import { DropLayer } from './intake/DropLayer.js';
import { HandOver } from './sheet/HandOver.js';
import { Masthead } from './sheet/Masthead.js';
import { ShouldBe } from './sheet/ShouldBe.js';
import { ToSet } from './sheet/ToSet.js';
import { WasMeasured } from './sheet/WasMeasured.js';
import { WhereItStands } from './sheet/WhereItStands.js';
import { WillGive } from './sheet/WillGive.js';
import { WrongAndWhy } from './sheet/WrongAndWhy.js';
import { redoChange, undoChange } from './state/session.js';

/** The worksheet, from top to bottom. */
export function App() {
  useEffect(() => {
    const pressed = (event: KeyboardEvent) => {
      if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
      const key = event.key.toLowerCase();
      if (key !== 'z' && key !== 'y') return;
      // What is being typed has its own undo.
      const target = event.target as HTMLElement;
      if (target.matches('input[type="text"], textarea')) return;
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
        <Board />
        <div class="steps">
          <WasMeasured />
          <ShouldBe />
          <WrongAndWhy />
          <WhereItStands />
          <ToSet />
          <WillGive />
          <HandOver />
        </div>
      </main>
      <footer>
        <p>
          All of this happens in your browser; nothing is sent anywhere. Worksheets are kept in this browser
          until you remove them.
        </p>
      </footer>
      <DropLayer />
    </>
  );
}
