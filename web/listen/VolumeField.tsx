import { useId } from 'preact/hooks';

const LEAST_DB = -60;

interface VolumeFieldProps {
  readonly db: number;
  readonly onChange: (db: number) => void;
}

/** How loud, in dB under full scale. */
export function VolumeField({ db, onChange }: VolumeFieldProps) {
  const id = useId();
  const words = `${db < 0 ? `−${-db}` : '0'} dB`;
  return (
    <div class="listen-volume">
      <label for={id}>Volume</label>
      <input
        id={id}
        type="range"
        min={LEAST_DB}
        max={0}
        step={1}
        value={db}
        aria-valuetext={words}
        onInput={(event) => onChange(event.currentTarget.valueAsNumber)}
      />
      <span aria-hidden="true">{words}</span>
    </div>
  );
}
