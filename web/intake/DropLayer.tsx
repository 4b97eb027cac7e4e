import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { FileRole } from '../store/project.js';
import { roleWords } from './roles.js';
import { takeFiles } from './takeFiles.js';

/** What measurements are that are let go on a part of the page which says so. */
const roleAt = ({ target }: DragEvent) =>
  (target instanceof Element ? target : undefined)?.closest<HTMLElement>('[data-takes]')?.dataset.takes as
    | FileRole
    | undefined;

/** Files may be let go anywhere on the page. */
export function DropLayer() {
  const over = useSignal(false);
  const role = useSignal<FileRole | undefined>(undefined);
  useEffect(() => {
    let depth = 0;
    const hasFiles = (event: DragEvent) => event.dataTransfer?.types.includes('Files') ?? false;
    const enter = (event: DragEvent) => {
      if (!hasFiles(event)) return;
      depth += 1;
      over.value = true;
    };
    const leave = () => {
      depth = Math.max(0, depth - 1);
      if (depth === 0) over.value = false;
    };
    const above = (event: DragEvent) => {
      if (!hasFiles(event)) return;
      event.preventDefault();
      role.value = roleAt(event);
    };
    const drop = (event: DragEvent) => {
      depth = 0;
      over.value = false;
      if (!hasFiles(event)) return;
      event.preventDefault();
      void takeFiles([...(event.dataTransfer?.files ?? [])], roleAt(event));
    };
    document.addEventListener('dragenter', enter);
    document.addEventListener('dragleave', leave);
    document.addEventListener('dragover', above);
    document.addEventListener('drop', drop);
    return () => {
      document.removeEventListener('dragenter', enter);
      document.removeEventListener('dragleave', leave);
      document.removeEventListener('dragover', above);
      document.removeEventListener('drop', drop);
    };
  }, []);
  return over.value ? (
    <div class="drop-layer" aria-hidden="true">
      <p>Let go to add the files{role.value && ` as “${roleWords(role.value)}”`}</p>
    </div>
  ) : null;
}
