// @vitest-environment jsdom
import { MantineProvider } from '@mantine/core';
import { cleanup, fireEvent, render, screen, within } from '@testing-library/react';
import { afterEach, beforeAll, describe, expect, it, vi } from 'vitest';
import { BoneDrawing } from '@/components/skeletons/bone-drawing';
import { BoneLegend } from '@/components/skeletons/bone-legend';
import { BoneTable } from '@/components/skeletons/bone-table';
import { makeEntry } from '@/lib/skeletons/rules/entries';
import { defaultSplit } from '@/lib/skeletons/rules/split';

const book = () => defaultSplit('skin-with-partial-skeleton', { wing: 'right', leg: 'right' });

/** The table's hundreds of controls are slow to search on a busy machine. */
vi.setConfig({ testTimeout: 30_000 });

beforeAll(() => {
  vi.stubGlobal('matchMedia', () => ({
    matches: false,
    addEventListener: vi.fn(),
    removeEventListener: vi.fn(),
  }));
});
afterEach(cleanup);

describe('the drawing', () => {
  const bone = (name: string) => screen.getByLabelText(name);

  it('names every entry to a screen reader', () => {
    render(<BoneDrawing entries={book()} />);
    expect(screen.getAllByRole('button')).toHaveLength(book().length);
    expect(bone('left humerus, whole: skin').getAttribute('data-place')).toBe('skin');
    expect(bone('skull with upper jaw, front part (bill): skin')).toBeTruthy();
  });

  it('stops the tab key once in every region', () => {
    render(<BoneDrawing entries={book()} />);
    const stops = screen.getAllByRole('button').filter((one) => one.getAttribute('tabindex') === '0');
    expect(stops).toHaveLength(9);
  });

  it('moves by arrows, selects by Enter and space, and keeps the place in its region', () => {
    const onSelect = vi.fn();
    render(<BoneDrawing entries={book()} onSelect={onSelect} />);
    bone('left humerus, whole: skin').focus();
    fireEvent.keyDown(bone('left humerus, whole: skin'), { key: 'ArrowLeft' });
    const reached = document.activeElement;
    expect(reached?.getAttribute('data-key')).toMatch(/^(radius|ulna)\/left\/whole$/);
    expect(reached?.getAttribute('tabindex')).toBe('0');
    fireEvent.keyDown(reached as Element, { key: 'Enter' });
    fireEvent.keyDown(reached as Element, { key: ' ' });
    expect(onSelect.mock.calls).toEqual([
      [reached?.getAttribute('data-key')],
      [reached?.getAttribute('data-key')],
    ]);
  });

  it('sets places and states by keys', () => {
    const onChange = vi.fn();
    render(<BoneDrawing entries={book()} onChange={onChange} />);
    const target = bone('wishbone, whole: skeleton');
    fireEvent.keyDown(target, { key: '7' });
    fireEvent.keyDown(target, { key: 'b' });
    fireEvent.keyDown(target, { key: 'q' });
    fireEvent.keyDown(target, { key: '1', ctrlKey: true });
    expect(onChange.mock.calls).toEqual([
      ['furcula/unpaired/whole', { place: 'lost' }],
      ['furcula/unpaired/whole', { state: 'broken' }],
    ]);
  });

  it('changes nothing when it is only to be read, but still selects', () => {
    const [onChange, onSelect] = [vi.fn(), vi.fn()];
    render(<BoneDrawing entries={book()} readOnly onChange={onChange} onSelect={onSelect} />);
    const target = bone('wishbone, whole: skeleton');
    fireEvent.keyDown(target, { key: '1' });
    fireEvent.click(target);
    expect(onChange).not.toHaveBeenCalled();
    expect(onSelect).toHaveBeenCalledWith('furcula/unpaired/whole');
  });

  it('shows which bone is selected, and what is wrong with one', () => {
    const entries = [...book(), makeEntry('furcula', 'unpaired', { place: 'skin' })];
    render(<BoneDrawing entries={entries} selectedKey="ulna/left/whole" />);
    expect(bone('left ulna, whole: skin').getAttribute('aria-pressed')).toBe('true');
    const wrong = screen.getByLabelText(/The wishbone is in 2 places: skeleton, skin/);
    expect(wrong.hasAttribute('data-problem')).toBe(true);
  });

  it('gives two drawings on a page their own hatches', () => {
    const { container } = render(
      <>
        <BoneDrawing entries={book()} />
        <BoneLegend entries={book()} />
      </>,
    );
    const ids = [...container.querySelectorAll('[id]')].map(({ id }) => id);
    expect(new Set(ids).size).toBe(ids.length);
    for (const used of container.innerHTML.matchAll(/url\(#([\w-]+)\)/g)) expect(ids).toContain(used[1]);
  });
});

describe('the table', () => {
  const table = (props: Partial<Parameters<typeof BoneTable>[0]> = {}) =>
    render(
      <MantineProvider>
        <BoneTable entries={book()} {...props} />
      </MantineProvider>,
    );

  it('holds the same entries as the drawing', () => {
    table({ readOnly: true });
    const rows = screen.getAllByRole('row').filter((row) => within(row).queryAllByRole('cell').length > 0);
    expect(rows).toHaveLength(book().length);
  });

  it('changes place and state, and divides and joins', () => {
    const [onChange, onDivide, onJoin] = [vi.fn(), vi.fn(), vi.fn()];
    table({ onChange, onDivide, onJoin });
    fireEvent.change(screen.getByLabelText('Place of the left ulna, whole'), { target: { value: 'lost' } });
    fireEvent.change(screen.getByLabelText('Place of the left ulna, whole'), {
      target: { value: 'undecided' },
    });
    fireEvent.change(screen.getByLabelText('State of the left ulna, whole'), { target: { value: 'broken' } });
    fireEvent.click(screen.getByLabelText('Divide the left ulna'));
    fireEvent.click(screen.getAllByLabelText('Join the lower jaw')[0] as Element);
    expect(onChange.mock.calls).toEqual([
      ['ulna/left/whole', { place: 'lost' }],
      ['ulna/left/whole', { place: null }],
      ['ulna/left/whole', { state: 'broken' }],
    ]);
    expect(onDivide).toHaveBeenCalledWith('ulna/left/whole');
    expect(onJoin).toHaveBeenCalledWith('mandible/unpaired/proximal');
  });

  it('says what the book lacks and what stands twice', () => {
    const entries = [
      ...book().filter(({ element }) => element !== 'sternum'),
      makeEntry('furcula', 'unpaired', { place: 'skin' }),
    ];
    table({ entries, readOnly: true });
    expect(screen.getByRole('status').textContent).toBe('Not in the book: breastbone.');
    expect(screen.getAllByText('The wishbone is in 2 places: skeleton, skin.')).toHaveLength(2);
  });
});
