import { useEffect } from 'preact/hooks';

/** No sound goes on from a page that is not to be seen. */
export function useStopWhenHidden(stop: () => void): void {
  useEffect(() => {
    const hidden = () => {
      if (document.hidden) stop();
    };
    document.addEventListener('visibilitychange', hidden);
    window.addEventListener('pagehide', stop);
    return () => {
      document.removeEventListener('visibilitychange', hidden);
      window.removeEventListener('pagehide', stop);
    };
  }, [stop]);
}
