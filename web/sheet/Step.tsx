import type { ComponentChildren } from 'preact';

/** One part of the worksheet: its question, what it says in a line, and the work itself. */
export function Step(props: {
  readonly id: string;
  readonly title: string;
  readonly lead?: ComponentChildren;
  readonly children: ComponentChildren;
}) {
  return (
    <section class="step" id={props.id} aria-labelledby={`${props.id}-title`}>
      <h2 id={`${props.id}-title`}>{props.title}</h2>
      {props.lead !== undefined && <p class="lead">{props.lead}</p>}
      {props.children}
    </section>
  );
}
