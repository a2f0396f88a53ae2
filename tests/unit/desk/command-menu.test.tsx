// @vitest-environment jsdom
import { QueryClient, QueryClientProvider } from '@tanstack/react-query';
import { fireEvent, screen, waitFor, within } from '@testing-library/react';
import { beforeEach, describe, expect, test, vi } from 'vitest';
import { CommandMenu } from '@/components/shell/command-menu';
import { show } from '../ui/render';

const push = vi.fn();
vi.mock('next/navigation', () => ({ useRouter: () => ({ push }) }));

const robin = {
  birdId: '6a4b3c2d-1e0f-4a5b-8c7d-9e8f7a6b5c4d',
  number: 'B-2026-0001',
  catalogueNumber: null,
  scientificName: 'Turdus migratorius',
  commonName: 'American Robin',
  stage: 'queued',
};
const asked = vi.fn();
// jsdom draws nothing and has nothing to scroll.
Element.prototype.scrollIntoView = () => {};

function open() {
  const onClose = vi.fn();
  show(
    <QueryClientProvider client={new QueryClient()}>
      <CommandMenu opened onClose={onClose} actor={{ personId: 'p', roles: ['registrar'] }} finds="birds" />
    </QueryClientProvider>,
  );
  return { box: screen.getByRole('combobox', { name: /A number, a name/ }), onClose };
}
const type = (box: HTMLElement, value: string) => fireEvent.change(box, { target: { value } });
const chosen = (box: HTMLElement) =>
  document.getElementById(box.getAttribute('aria-activedescendant') ?? '')?.textContent;

describe('the command menu', () => {
  beforeEach(() => {
    push.mockClear();
    asked.mockClear();
    vi.stubGlobal('fetch', async (address: string) => {
      asked(address);
      return Response.json({ hits: [robin] });
    });
  });

  test('arrows walk round, Enter opens; a screen reader is told which and how many', () => {
    const { box, onClose } = open();
    type(box, 'loan');
    expect(chosen(box)).toBe('Loans');
    expect(screen.getByRole('status').textContent).toMatch(/^3 entries/);
    fireEvent.keyDown(box, { key: 'ArrowDown' });
    expect(chosen(box)).toBe('Ask for a loan');
    fireEvent.keyDown(box, { key: 'ArrowUp' });
    fireEvent.keyDown(box, { key: 'ArrowUp' });
    expect(chosen(box)).toBe('Search the catalogue for “loan”');
    fireEvent.keyDown(box, { key: 'ArrowDown' });
    fireEvent.keyDown(box, { key: 'Enter' });
    expect(push).toHaveBeenCalledExactlyOnceWith('/loans');
    expect(onClose).toHaveBeenCalledOnce();
  });

  test('a number and Enter at once, as a scanner types: the bird, not the first entry of an older list', async () => {
    const { box } = open();
    type(box, 'b-2026-0001');
    fireEvent.keyDown(box, { key: 'Enter' });
    await waitFor(() => expect(push).toHaveBeenCalledExactlyOnceWith(`/birds/${robin.birdId}`));
    expect(asked).toHaveBeenCalledWith('/api/catalogue/find?q=b-2026-0001');
  });

  test('nothing found: the whole catalogue is searched', async () => {
    vi.stubGlobal('fetch', async () => Response.json({ hits: [] }));
    const { box } = open();
    type(box, 'nightjar');
    fireEvent.keyDown(box, { key: 'Enter' });
    await waitFor(() => expect(push).toHaveBeenCalledExactlyOnceWith('/catalogue?q=nightjar'));
  });

  test('what a registrar may not do is not offered', () => {
    open();
    const tasks = within(screen.getByRole('group', { name: 'Begin' })).getAllByRole('option');
    const words = tasks.map((task) => task.textContent);
    expect(words).toContain('Make an accession');
    expect(words).not.toContain('Invite somebody');
    expect(words).not.toContain('Take the next bird');
  });
});
