// @vitest-environment jsdom

import { QueryClient, QueryClientProvider } from '@tanstack/react-query';
import { fireEvent, screen, waitFor, within } from '@testing-library/react';
import { describe, expect, test, vi } from 'vitest';
import { isAt } from '@/components/shell/life-rail';
import { WorkspaceShell } from '@/components/shell/workspace-shell';
import { HistoryStory } from '@/components/ui/history-story';
import { isFinalError } from '@/components/ui/problem';
import { countOf, sayWord } from '@/lib/platform/words/say';
import { sayNumber } from '@/lib/platform/words/say-number';
import { show } from './render';

vi.mock('next/navigation', () => ({ usePathname: () => '/bench/17', useRouter: () => ({ push: vi.fn() }) }));

// Not in jsdom; the menu asks for it to keep the chosen entry in sight.
Element.prototype.scrollIntoView = () => {};

describe('WorkspaceShell', () => {
  const shell = (demo: boolean) =>
    show(
      <QueryClientProvider client={new QueryClient()}>
        <WorkspaceShell
          actor={{ personId: 'p', name: 'Ines Valdemar', roles: ['permit-officer'] }}
          collection="Birds"
          stages={[
            { id: 'bench', label: 'Bench', href: '/bench', waiting: 3 },
            { id: 'skins', label: 'Skins', href: '/skins', waiting: 0 },
          ]}
          demo={demo}
          finds="nothing"
        >
          <h1>Here</h1>
        </WorkspaceShell>
      </QueryClientProvider>,
    );

  test('the first stop is the way past the navigation, and it leads to the page', () => {
    const { container } = shell(false);
    const first = container.querySelector('a');
    expect(first?.getAttribute('href')).toBe('#main');
    expect(screen.getByRole('main').id).toBe('main');
  });

  test('the rail is an ordered list that says where one is and what waits', () => {
    shell(false);
    const links = within(screen.getByRole('navigation', { name: "Stages of a bird's life" })).getAllByRole(
      'link',
    );
    expect(links.map((link) => [link.textContent, link.getAttribute('aria-current')])).toEqual([
      ['Bench3 waiting', 'page'],
      ['Skins', null],
    ]);
  });

  test('the person opens, chooses the dark look, and Escape gives the focus back', async () => {
    shell(false);
    const person = screen.getByRole('button', { name: /Ines Valdemar/ });
    expect(screen.queryByRole('radio', { name: 'Dark' })).toBeNull();
    fireEvent.click(person);
    // The panel is loaded when it is first opened.
    fireEvent.click(await screen.findByRole('radio', { name: 'Dark' }, { timeout: 60_000 }));
    expect(document.documentElement.getAttribute('data-mantine-color-scheme')).toBe('dark');
    fireEvent.keyDown(screen.getByRole('radio', { name: 'Dark' }), { key: 'Escape' });
    expect(document.activeElement).toBe(person);
    expect(person.getAttribute('aria-expanded')).toBe('false');
  }, 120_000);

  test('the box in the head opens the menu, and ? the sheet of keys', async () => {
    shell(false);
    // Both are loaded when they are first asked for, which a busy machine takes its time for.
    const dialog = (name: string) => screen.findByRole('dialog', { name }, { timeout: 60_000 });
    fireEvent.click(screen.getByRole('button', { name: /^Find, go, begin/ }));
    expect(await dialog('Find, go, begin')).toBeTruthy();
    fireEvent.keyDown(document.body, { key: 'Escape' });
    await waitFor(() => expect(screen.queryByRole('dialog')).toBeNull());
    fireEvent.keyDown(document.body, { key: '?' });
    expect(await dialog('Keys of this page')).toBeTruthy();
  }, 120_000);

  test('the demonstration says so, an installation does not', () => {
    const { unmount } = shell(true);
    expect(screen.getByRole('note').textContent).toContain('invented');
    unmount();
    shell(false);
    expect(screen.queryByRole('note')).toBeNull();
  });

  test.each([
    ['/bench/17', '/bench', true],
    ['/bench', '/bench', true],
    ['/benchmarks', '/bench', false],
    ['/bench', '/', false],
    ['/', '/', true],
  ])('%s is at %s: %s', (path, href, at) => expect(isAt(path, href)).toBe(at));
});

describe('HistoryStory', () => {
  test('tells the days in order, with what became what', () => {
    show(
      <HistoryStory
        events={[
          {
            id: '2',
            at: '2026-03-12T12:05:00Z',
            who: 'Pelle Lind',
            did: 'corrected the measures',
            why: 'misread',
            changes: [
              { label: 'Wing', from: '130 mm', to: '131 mm' },
              { label: 'Fat', from: null, to: 'little' },
            ],
          },
          { id: '1', at: '2026-03-10T12:00:00Z', who: 'Ines Valdemar', did: 'took this bird' },
        ]}
      />,
    );
    expect(screen.getAllByRole('heading').map((heading) => heading.textContent)).toEqual([
      '12 Mar 2026',
      '10 Mar 2026',
    ]);
    expect(screen.getByText('130 mm').tagName).toBe('DEL');
    expect(screen.getByText('131 mm').tagName).toBe('INS');
    expect(screen.getByText('“misread”')).toBeTruthy();
  });
});

describe('small words', () => {
  test('stored words, counts and numbers', () => {
    expect(sayWord('on-the-bench')).toBe('On the bench');
    expect(countOf(1, 'bird')).toBe('1 bird');
    expect(countOf(1200, 'body', 'bodies')).toBe('1,200 bodies');
    expect(sayNumber(-3.5, 2)).toBe('−3.50');
    expect(sayNumber(1234.5)).toBe('1,234.5');
  });

  test('a second try is worth it for the server and the line, not for a fault of the request', () => {
    expect(isFinalError({ problem: { status: 409 } })).toBe(true);
    expect(isFinalError({ problem: { status: 429 } })).toBe(false);
    expect(isFinalError({ status: 503 })).toBe(false);
    expect(isFinalError({ problem: { status: 0, code: 'offline' } })).toBe(false);
    expect(isFinalError(new TypeError('fetch failed'))).toBe(false);
    expect(isFinalError(null)).toBe(false);
  });
});
