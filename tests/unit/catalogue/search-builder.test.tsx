// @vitest-environment jsdom
import { fireEvent, screen, within } from '@testing-library/react';
import { useState } from 'react';
import { describe, expect, test, vi } from 'vitest';
import { BUILDER_FIELDS } from '@/components/catalogue/builder-fields';
import { SearchBuilder } from '@/components/catalogue/search-builder';
import { QUERY_FIELDS } from '@/lib/catalogue/query/fields';
import { show } from '../ui/render';

const context = { numberTemplates: ['SB-{year}-{n:4}'], hemisphere: 'north' } as const;
const asked = vi.fn();

/** A page whose address is `q`; the box of the page writes it from outside. */
function Page({ start }: { start: string }) {
  const [q, setQ] = useState(start);
  const onQuery = (text: string) => {
    asked(text);
    setQ(text);
  };
  return (
    <>
      <input aria-label="box" value={q} onChange={(event) => setQ(event.currentTarget.value)} />
      <SearchBuilder q={q} context={context} fields={QUERY_FIELDS} onQuery={onQuery} />
    </>
  );
}
const box = () => screen.getByLabelText<HTMLInputElement>('box').value;
const all = () => screen.getByRole('group', { name: 'Birds that fit' });

describe('the builder and the box say the same', () => {
  test('offers every field of the search', () => {
    expect(Object.keys(BUILDER_FIELDS).sort()).toEqual([...QUERY_FIELDS].sort());
  });

  test('shows what stands in the box, also when it changes there', () => {
    show(<Page start="sex:male or stage:queued" />);
    const joint = () => within(all()).getByLabelText<HTMLSelectElement>(/^Birds that fit: how/).value;
    expect(joint()).toBe('or');
    expect(screen.getAllByLabelText<HTMLSelectElement>('Field').map(({ value }) => value)).toEqual([
      'sex',
      'stage',
    ]);
    fireEvent.change(screen.getByLabelText('box'), {
      target: { value: 'county:Franklin -(sex:male or 2024)' },
    });
    expect(joint()).toBe('and');
    expect(screen.getByRole('group', { name: 'Group 2' })).toBeTruthy();
    expect(screen.getAllByText('Franklin').length).toBeGreaterThan(0);
  });

  test('is written by keyboard: conditions, not, a group, Enter in a text', () => {
    asked.mockClear();
    show(<Page start="sex:male" />);
    fireEvent.click(screen.getByRole('checkbox', { name: 'not' }));
    expect(box()).toBe('-sex:male');
    fireEvent.click(within(all()).getByRole('button', { name: 'Condition' }));
    const fields = screen.getAllByLabelText<HTMLSelectElement>('Field');
    expect(document.activeElement).toBe(fields[1]);
    // Nothing is asked yet of the new line, so the search stays as it was.
    expect(box()).toBe('-sex:male');
    fireEvent.change(fields[1] as HTMLElement, { target: { value: 'number' } });
    const text = screen.getByRole('textbox', { name: 'Number' });
    fireEvent.change(text, { target: { value: '12' } });
    expect(box()).toBe('-sex:male');
    fireEvent.keyDown(text, { key: 'Enter' });
    expect(box()).toBe('-sex:male number:12');
    fireEvent.change(within(all()).getByLabelText(/^Birds that fit: how/), { target: { value: 'or' } });
    expect(box()).toBe('-sex:male or number:12');
    fireEvent.click(within(all()).getByRole('button', { name: 'Group' }));
    const group = screen.getByRole('group', { name: 'Group 3' });
    fireEvent.change(within(group).getByLabelText('Field'), { target: { value: 'quality' } });
    fireEvent.change(within(group).getByLabelText('Tissue quality from class'), { target: { value: '2' } });
    expect(box()).toBe('-sex:male or number:12 or quality:2');
    fireEvent.click(screen.getByRole('button', { name: 'Take away: Number' }));
    expect(box()).toBe('-sex:male or quality:2');
    expect(document.activeElement).toBe(within(all()).getByLabelText(/^Birds that fit: how/));
    expect(asked.mock.calls.map(([text_]) => text_)).not.toContain('');
  });

  test('says what is wrong with a line and leaves it out', () => {
    show(<Page start="sex:male" />);
    fireEvent.click(within(all()).getByRole('button', { name: 'Condition' }));
    fireEvent.change(screen.getAllByLabelText('Field')[1] as HTMLElement, { target: { value: 'bones' } });
    fireEvent.change(screen.getByLabelText('Side of the bones'), { target: { value: 'right' } });
    expect(screen.getByRole('alert').textContent).toBe('Choose a bone.');
    expect(box()).toBe('sex:male');
  });
});
