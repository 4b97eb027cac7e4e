import { useId } from 'preact/hooks';
import { cleanText } from '../../src/export/words/cleanText.js';

interface SoundChoiceProps {
  /** The file that is played; absent for the noise. */
  readonly fileName: string | undefined;
  /** A file of the user's, or none for the noise. */
  readonly onChoose: (file: File | undefined) => void;
}

/** What is played: the noise, or a sound file. */
export function SoundChoice({ fileName, onChoose }: SoundChoiceProps) {
  const id = useId();
  return (
    <div class="listen-sound">
      <label class="listen-open" for={id}>
        Take a sound file of your own
      </label>
      <input
        id={id}
        type="file"
        accept="audio/*,.wav,.flac,.mp3,.ogg,.opus,.m4a"
        onChange={(event) => {
          const [file] = event.currentTarget.files ?? [];
          if (file) onChoose(file);
          // The same file may be chosen again.
          event.currentTarget.value = '';
        }}
      />
      {fileName !== undefined && (
        <>
          <span class="listen-file">{cleanText(fileName)}</span>
          <button type="button" onClick={() => onChoose(undefined)}>
            Pink noise again
          </button>
        </>
      )}
    </div>
  );
}
