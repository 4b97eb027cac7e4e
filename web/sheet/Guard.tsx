import { Component, type ComponentChildren } from 'preact';

interface Props {
  /** What stands in it, for the message. */
  readonly what: string;
  readonly children: ComponentChildren;
}

/** A fault in one part of the sheet leaves the others as they are. */
export class Guard extends Component<Props, { readonly message: string | undefined }> {
  override state = { message: undefined as string | undefined };

  static override getDerivedStateFromError(error: unknown) {
    return { message: error instanceof Error ? error.message : String(error) };
  }

  override render({ what, children }: Props) {
    const { message } = this.state;
    if (message === undefined) return children;
    return (
      <section class="step">
        <p class="bad" role="alert">
          {what} cannot be shown: {message}. This is a fault of Nullwise, not of your files.
        </p>
        <button type="button" onClick={() => this.setState({ message: undefined })}>
          Try again
        </button>
      </section>
    );
  }
}
