import { describe, expect, it } from 'vitest';
import { blockedMs, medianLoad, sayPages, scriptsOf } from '@/tests/bench/page-figures';

describe('the figures of a page', () => {
  // The definition of total blocking time: web.dev, "Total Blocking Time (TBT)", from memory; 50 ms: W3C Long Tasks.
  it.each([
    ['a task of 50 ms is not felt', [{ startTime: 500, duration: 50 }], 0],
    ['of a longer one what is beyond 50 ms', [{ startTime: 500, duration: 120 }], 70],
    [
      'several add up, each with its own 50 ms',
      [
        { startTime: 500, duration: 90 },
        { startTime: 700, duration: 60 },
      ],
      50,
    ],
    ['what ended before the paint is not counted', [{ startTime: 100, duration: 150 }], 0],
    ['of a task around the paint only the part after it', [{ startTime: 200, duration: 200 }], 50],
  ])('%s', (_, tasks, blocked) => {
    expect(blockedMs(tasks, 300)).toBe(blocked);
  });

  it('scripts of a document: each once, with or without async, not those written in it', () => {
    const html =
      '<script src="/a.js" async=""></script><link rel="preload" href="/c.js"><script nonce="x" src="/b.js?v=1&amp;w=2"></script>' +
      '<script>let src="/d.js"</script><script src="/a.js"></script>';
    expect([...scriptsOf(html)]).toEqual(['/a.js', '/b.js?v=1&w=2']);
  });

  it('each figure’s own median', () => {
    const load = (paintMs: number, blocked: number) => ({
      paintMs,
      blockedMs: blocked,
      firstBytes: 10,
      allBytes: 20,
    });
    expect(medianLoad([load(1, 9), load(3, 7), load(2, 8)])).toEqual(load(2, 8));
  });

  it('what is over a limit stands in bold and is counted', () => {
    const page = { who: 'registrar', paintMs: 1000, blockedMs: 150, firstBytes: 250_000, allBytes: 400_000 };
    const text = sayPages([
      { ...page, name: 'loans' },
      { ...page, name: 'storage', firstBytes: 251_000 },
    ]);
    expect(text).toContain('| loans | registrar | 1000 | 150 | 250 | 400 |');
    expect(text).toContain('| storage | registrar | 1000 | 150 | **251** | 400 |');
    expect(text).toContain('1 of 2 pages are over a limit');
  });
});
