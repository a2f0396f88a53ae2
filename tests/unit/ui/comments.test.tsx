// @vitest-environment jsdom
import { QueryClient, QueryClientProvider } from '@tanstack/react-query';
import { fireEvent, screen, waitFor, within } from '@testing-library/react';
import { type ReactNode, useState } from 'react';
import { afterEach, describe, expect, test, vi } from 'vitest';
import { CommentText } from '@/components/notices/comment-item';
import { Comments } from '@/components/notices/comments';
import { MentionBox } from '@/components/notices/mention-box';
import type { CommentPage } from '@/lib/notices/schema';
import { show } from './render';

const SUBJECT = { subjectType: 'bird', subjectId: '0190a000-0000-7000-8000-000000000001' } as const;
const ANA = { id: '0190a000-0000-7000-8000-00000000000a', name: 'Ana Lund' };
const ANDRE = { id: '0190a000-0000-7000-8000-00000000000b', name: 'André Holt' };

const asked: { url: string; body: unknown }[] = [];
function answer(answers: Record<string, unknown>) {
  vi.stubGlobal('fetch', async (url: string, init?: RequestInit) => {
    asked.push({ url, body: init?.body === undefined ? null : JSON.parse(String(init.body)) });
    const found = Object.entries(answers).find(([start]) => url.startsWith(start));
    return Response.json(found?.[1] ?? { title: 'not here' }, { status: found ? 200 : 404 });
  });
}
afterEach(() => {
  vi.unstubAllGlobals();
  asked.length = 0;
});

const withClient = (children: ReactNode) =>
  show(
    <QueryClientProvider client={new QueryClient({ defaultOptions: { queries: { retry: false } } })}>
      {children}
    </QueryClientProvider>,
  );

describe('what is shown of a comment', () => {
  test('tags, links and entities are words like others', () => {
    const text = '<img src=x onerror="alert(1)"> <b>bold</b> &amp; javascript:alert(1)\nnext line';
    const { container } = show(<CommentText text={text} people={[]} />);
    expect(container.querySelector('p')?.textContent).toBe(text);
    expect(container.querySelector('p img, p b, p a, p script')).toBeNull();
  });

  test('people stand by their names, those who left as such', () => {
    const { container } = show(<CommentText text={`Ask @[${ANA.id}] or @[${ANDRE.id}].`} people={[ANA]} />);
    expect(container.querySelector('p')?.textContent).toBe('Ask @Ana Lund or @somebody who left.');
  });
});

const chosen = vi.fn();
function Box() {
  const [text, setText] = useState('');
  return <MentionBox label="Say" subject={SUBJECT} value={text} onChange={setText} onChoose={chosen} />;
}

describe('mentioning by keyboard', () => {
  const box = () => screen.getByRole<HTMLTextAreaElement>('textbox', { name: 'Say' });
  const type = (value: string) => fireEvent.change(box(), { target: { value } });

  test('the sign opens the list, arrows choose, Enter takes, the focus stays', async () => {
    answer({ '/api/notices/readers': { people: [ANA, ANDRE] } });
    withClient(<Box />);
    box().focus();
    type('See @an');
    const list = await screen.findByRole('listbox', { name: 'Whom to mention' });
    const options = within(list).getAllByRole('option');
    expect(options.map((one) => [one.textContent, one.getAttribute('aria-selected')])).toEqual([
      ['Ana Lund', 'true'],
      ['André Holt', 'false'],
    ]);
    expect(box().getAttribute('aria-activedescendant')).toBe(options[0]?.id);
    fireEvent.keyDown(box(), { key: 'ArrowDown' });
    expect(box().getAttribute('aria-activedescendant')).toBe(options[1]?.id);
    fireEvent.keyDown(box(), { key: 'Enter' });
    expect(box().value).toBe('See @André Holt ');
    expect(box().selectionStart).toBe('See @André Holt '.length);
    expect(chosen).toHaveBeenCalledWith(ANDRE);
    expect(document.activeElement).toBe(box());
    expect(screen.queryByRole('listbox')).toBeNull();
  });

  test('Escape closes it and leaves what was typed; Enter is then a new line', async () => {
    answer({ '/api/notices/readers': { people: [ANA] } });
    withClient(<Box />);
    box().focus();
    type('@A');
    await screen.findByRole('listbox');
    fireEvent.keyDown(box(), { key: 'Escape' });
    expect(screen.queryByRole('listbox')).toBeNull();
    expect(box().value).toBe('@A');
    expect(fireEvent.keyDown(box(), { key: 'Enter' })).toBe(true);
  });
});

describe('the comments of a record', () => {
  const row = (id: string, text: string | null): CommentPage['rows'][number] => ({
    id: `0190a000-0000-7000-8000-0000000000${id}`,
    ...SUBJECT,
    of: null,
    author: ANA,
    field: null,
    text,
    people: [],
    createdAt: `2026-05-02T10:00:${id}.000Z`,
    editedAt: null,
    withdrawnAt: text === null ? '2026-05-03T10:00:00.000Z' : null,
    version: 1,
    abilities: { change: false },
  });
  const page: CommentPage = {
    rows: [row('12', 'second'), row('11', null)],
    next: null,
    total: 2,
    withheld: 3,
    following: true,
    sensitive: false,
    abilities: { write: true },
  };

  test('oldest first, a withdrawn one as a fact, what is withheld counted', async () => {
    answer({ '/api/notices/comments': page });
    withClient(<Comments subject={SUBJECT} />);
    const list = await screen.findByRole('list', { name: 'Comments, the oldest first' });
    const [first, second] = within(list).getAllByRole('listitem');
    expect(first?.textContent).toContain('Withdrawn');
    expect(second?.textContent).toContain('second');
    expect(screen.getByText(/3 comments of others not shown/)).toBeDefined();
    expect(screen.getByRole('button', { name: 'Stop following' })).toBeDefined();
  });

  test('what is typed is sent with people as ids, once, and stays when it is refused', async () => {
    answer({ '/api/notices/comments?': page, '/api/notices/readers': { people: [ANA] } });
    withClient(<Comments subject={SUBJECT} />);
    const box = await screen.findByRole<HTMLTextAreaElement>('textbox', { name: 'Say something' });
    fireEvent.change(box, { target: { value: '@Ana' } });
    fireEvent.click(await screen.findByRole('option', { name: 'Ana Lund' }));
    fireEvent.click(screen.getByRole('button', { name: 'Comment' }));
    await waitFor(() => expect(asked.some(({ body }) => body !== null)).toBe(true));
    const sent = asked.filter(({ body }) => body !== null).map(({ body }) => body);
    expect(sent).toEqual([{ ...SUBJECT, text: `@[${ANA.id}] `, field: null }]);
    expect(await screen.findByRole('alert')).toBeDefined();
    expect(box.value).toBe('@Ana Lund ');
  });

  test('a failure says so and offers another try', async () => {
    answer({});
    withClient(<Comments subject={SUBJECT} />);
    expect(await screen.findByText('The comments could not be loaded.')).toBeDefined();
  });
});
