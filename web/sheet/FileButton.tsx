import { useRef } from 'preact/hooks';
import { takeFiles } from '../intake/takeFiles.js';
import type { FileRole } from '../store/project.js';

/** A button that opens the choice of files. */
export function FileButton(props: {
  readonly words: string;
  /** What the files hold, for who does not see the button that they belong to. */
  readonly label?: string;
  readonly class?: string;
  readonly accept?: string;
  readonly multiple?: boolean;
  /** What measurements among them are. */
  readonly measuredAs?: FileRole;
}) {
  const chooser = useRef<HTMLInputElement>(null);
  const { words, label = words, accept, multiple = true, measuredAs } = props;
  return (
    <>
      <button
        type="button"
        {...(props.class && { class: props.class })}
        onClick={() => chooser.current?.click()}
      >
        {words}
      </button>
      <input
        ref={chooser}
        type="file"
        multiple={multiple}
        {...(accept && { accept })}
        class="unseen"
        tabIndex={-1}
        aria-label={label}
        onChange={({ currentTarget }) => {
          void takeFiles([...(currentTarget.files ?? [])], measuredAs);
          currentTarget.value = '';
        }}
      />
    </>
  );
}
