// @vitest-environment jsdom
import { QueryClient, QueryClientProvider } from '@tanstack/react-query';
import { fireEvent, screen, waitFor, within } from '@testing-library/react';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { type MovableSkeleton, SkeletonActs } from '@/components/skeletons/skeleton-acts';
import { SplitForm } from '@/components/skeletons/split-form';
import { STARTING_PROCEDURES } from '@/lib/skeletons/rules/cleaning';
import { makeEntry, nameOf } from '@/lib/skeletons/rules/entries';
import type { BoneEntry } from '@/lib/skeletons/schema';
import { GENERAL_PROFILE } from '@/lib/skeletons/taxa';
import { show } from '../ui/render';
import { makeBook } from './book';

// What jsdom lacks and a growing text field asks for.
Object.defineProperty(document, 'fonts', { value: new EventTarget() });

afterEach(() => vi.unstubAllGlobals());

describe('the usual split', () => {
  const fill = (entries: BoneEntry[], rest: Parameters<typeof makeBook>[1] = {}) => {
    const onFill = vi.fn<(entries: BoneEntry[]) => void>();
    const book = makeBook(entries, rest);
    show(<SplitForm book={book} entries={entries} profile={GENERAL_PROFILE} onFill={onFill} />);
    const press = () => {
      fireEvent.click(screen.getByRole('button', { name: 'Fill the usual split' }));
      const made = onFill.mock.lastCall?.[0] ?? [];
      return (key: string) => made.find((entry) => nameOf(entry) === key);
    };
    return { press };
  };
  const broken = { element: 'humerus', side: 'right', state: 'broken' } as const;

  it('proposes the intact wing with its reason, and keeps the recorded break', () => {
    const { press } = fill([], { recordedDamage: [broken] });
    const wing = screen.getByRole('radiogroup', { name: 'Wing for the skeleton' });
    expect(within(wing).getByRole('radio', { name: 'Left' })).toHaveProperty('checked', true);
    expect(screen.getByText('The left wing is intact (right humerus broken).')).toBeDefined();
    const entry = press();
    expect(entry('humerus/left/whole')?.place).toBe('skeleton');
    expect(entry('humerus/right/whole')).toMatchObject({ place: 'skin', state: 'broken' });
    // No break in a leg: the usual side.
    expect(entry('tibiotarsus/right/whole')?.place).toBe('skeleton');
  });

  it('proposes from what the book itself says is broken', () => {
    fill([makeEntry('ulna', 'right', { state: 'missing' })]);
    expect(screen.getByText('The left wing is intact (right ulna missing).')).toBeDefined();
  });

  it('follows the person who decides otherwise', () => {
    const { press } = fill([], { recordedDamage: [broken] });
    const wing = screen.getByRole('radiogroup', { name: 'Wing for the skeleton' });
    fireEvent.click(within(wing).getByRole('radio', { name: 'Right' }));
    expect(press()('humerus/right/whole')).toMatchObject({ place: 'skeleton', state: 'broken' });
  });

  it('cuts the bones that stay in the skin where the lab does so', () => {
    const { press } = fill([]);
    fireEvent.click(screen.getByRole('checkbox', { name: /cut through the shaft/ }));
    const entry = press();
    expect(entry('humerus/left/proximal')?.place).toBe('skeleton');
    expect(entry('humerus/left/distal')?.place).toBe('skin');
  });

  it('asks for no side where the style takes none, and says when there is no style', () => {
    fill([], { styleId: 'whole-skeleton' });
    expect(screen.queryByRole('radiogroup')).toBeNull();
    fill([], { styleId: null });
    expect(screen.getByText(/No preparation style is chosen/)).toBeDefined();
  });
});

describe('moving skeletons on', () => {
  const ID = '01900000-0000-7000-8000-00000000000';
  const at = (n: number, procedureId: string, step: string, state: string): MovableSkeleton => ({
    id: `${ID}${n}`,
    state,
    step: { id: `${ID}${n + 5}`, step, procedureId },
  });
  const open = (...skeletons: MovableSkeleton[]) =>
    show(
      <QueryClientProvider client={new QueryClient()}>
        <SkeletonActs skeletons={skeletons} procedures={STARTING_PROCEDURES} today="2026-03-14" />
      </QueryClientProvider>,
    );
  const options = () =>
    within(screen.getByRole('combobox', { name: 'Next' }))
      .getAllByRole('option')
      .map(({ textContent }) => textContent);

  it('names the next step where all go to the same, and the others open to all', () => {
    open(at(1, 'beetles', 'rinse', 'cleaning'), at(2, 'beetles', 'rinse', 'cleaning'));
    expect(options()[0]).toBe('Dry');
    expect(options()).toContain('Degrease');
    expect(options()).not.toContain('Rinse');
    expect(screen.getByRole('button', { name: 'Move 2 skeletons on' })).toBeDefined();
  });

  it('offers each its own next step where they differ, and only what both may', () => {
    open(at(1, 'beetles', 'flesh', 'rough-cleaned'), at(2, 'maceration', 'flesh', 'rough-cleaned'));
    expect(options()[0]).toBe('Each to its next step');
    expect(options()).not.toContain('In the colony');
  });

  it('asks for a procedure first where one has none', () => {
    open(at(1, 'beetles', 'flesh', 'rough-cleaned'), { id: `${ID}2`, state: 'rough-cleaned', step: null });
    expect(options()).toEqual(STARTING_PROCEDURES.map(({ name }) => `${name}, from “Flesh”`));
  });

  it('asks for the temperature of a freezing step, and sends what the person saw', async () => {
    const fetched = vi.fn(async (_: string, __?: RequestInit) => Response.json({ moved: [] }));
    vi.stubGlobal('fetch', fetched);
    open(at(1, 'enzymes', 'dry', 'dry'));
    expect(options()[0]).toBe('Pest freeze');
    fireEvent.change(screen.getByLabelText('Temperature in °C'), { target: { value: '-22' } });
    fireEvent.change(screen.getByLabelText('Note'), { target: { value: 'bag 7' } });
    fireEvent.click(screen.getByRole('button', { name: 'Move on' }));
    await waitFor(() => expect(fetched).toHaveBeenCalled());
    expect(JSON.parse(String(fetched.mock.lastCall?.[1]?.body))).toEqual({
      to: 'next',
      chosen: [{ materialId: `${ID}1`, stepId: `${ID}6` }],
      method: null,
      note: 'bag 7',
      doneOn: null,
      temperatureC: -22,
      place: null,
    });
  });
});
