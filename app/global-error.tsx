'use client';

import './globals.css';
import { colourCss } from '@/components/ui/colours';
import { say } from '@/lib/platform/words/say';

/** The last net: the layout itself failed, so nothing of the theme can be counted on. */
export default function GlobalError({
  error,
  reset,
}: {
  error: Error & { digest?: string };
  reset: () => void;
}) {
  return (
    <html lang="en">
      <head>
        <title>{say('Furcula stopped')}</title>
        <style>{colourCss()}</style>
      </head>
      <body style={{ fontFamily: 'var(--f-sans)', background: 'var(--f-paper)', color: 'var(--f-ink)' }}>
        <main style={{ maxWidth: 560, margin: '15vh auto', padding: 24, lineHeight: 1.5 }}>
          <h1 style={{ fontFamily: 'var(--f-serif)', fontWeight: 560 }}>
            {say('Furcula stopped on this page')}
          </h1>
          <p>{say('What was saved before is kept. Try again; if it stays, tell an administrator.')}</p>
          {error.digest && <p>{say('Number of this failure: {digest}', { digest: error.digest })}</p>}
          <button
            type="button"
            onClick={reset}
            style={{ font: 'inherit', padding: '8px 16px', cursor: 'pointer' }}
          >
            {say('Try again')}
          </button>
        </main>
      </body>
    </html>
  );
}
