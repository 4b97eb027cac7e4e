import { useSignal } from '@preact/signals';
import type { TargetedKeyboardEvent } from 'preact';
import { useEffect, useRef } from 'preact/hooks';

interface EntryProps {
  readonly id?: string;
  readonly class?: string;
  readonly maxLength?: number;
  readonly placeholder?: string;
  readonly 'aria-label'?: string;
  readonly 'aria-invalid'?: boolean;
  readonly 'aria-describedby'?: string;
  readonly onFocus?: () => void;
  /** What holds at present. */
  readonly value: string;
  /** Takes what was typed when the field is left or Enter pressed; false where it was refused, so that it can be mended. */
  readonly commit: (typed: string) => boolean | Promise<boolean>;
  readonly onKeyDown?: (event: TargetedKeyboardEvent<HTMLInputElement>) => void;
}

/**
 * A field of text. What is being typed stays, whatever else on the sheet changes meanwhile; Escape gives it up. What was
 * refused goes where another value comes to stand in the field, since it was not written for that one.
 */
export function Entry({ value, commit, onKeyDown, ...rest }: EntryProps) {
  const draft = useSignal<string | undefined>(undefined);
  const field = useRef<HTMLInputElement>(null);
  useEffect(() => {
    if (document.activeElement !== field.current) draft.value = undefined;
  }, [value]);
  return (
    <input
      ref={field}
      type="text"
      autocomplete="off"
      {...rest}
      value={draft.value ?? value}
      data-typing={draft.value !== undefined && draft.value !== value}
      onInput={({ currentTarget }) => {
        draft.value = currentTarget.value;
      }}
      onChange={async ({ currentTarget }) => {
        const typed = currentTarget.value;
        draft.value = typed;
        if ((await commit(typed)) && draft.peek() === typed) draft.value = undefined;
      }}
      onKeyDown={(event) => {
        if (event.key === 'Escape') draft.value = undefined;
        onKeyDown?.(event);
      }}
    />
  );
}
