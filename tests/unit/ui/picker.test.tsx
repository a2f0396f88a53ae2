// @vitest-environment jsdom

import { fireEvent, screen } from '@testing-library/react';
import { useState } from 'react';
import { renderToString } from 'react-dom/server';
import { beforeEach, describe, expect, test, vi } from 'vitest';
import { Picker } from '@/components/ui/picker';
import { show } from './render';

const GULLS = ['Herring Gull', 'Ring-billed Gull', 'Laughing Gull'];

beforeEach(() => {
  // jsdom draws nothing, so there is nothing to scroll.
  Element.prototype.scrollIntoView = vi.fn();
});

function Field({ options = GULLS, onSubmit = () => {} }: { options?: string[]; onSubmit?: () => void }) {
  const [value, setValue] = useState('');
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        onSubmit();
      }}
    >
      <Picker
        label="What bird?"
        name="bird"
        value={value}
        options={value.length < 2 || options.includes(value) ? [] : options}
        onChange={setValue}
      />
    </form>
  );
}

const box = () => screen.getByRole<HTMLInputElement>('combobox', { name: 'What bird?' });
const names = () => screen.queryAllByRole('option').map((option) => option.textContent);
const type = (value: string) => fireEvent.change(box(), { target: { value } });
/** Whether the browser's own act on the key is left to it. */
const press = (key: string, more: object = {}) => fireEvent.keyDown(box(), { key, ...more });

/** The states that the WAI-ARIA Authoring Practices ask of an editable combobox with a list. */
const states = () => ({
  open: box().getAttribute('aria-expanded'),
  list: document.getElementById(box().getAttribute('aria-controls') ?? '')?.getAttribute('role') ?? null,
  active: document.getElementById(box().getAttribute('aria-activedescendant') ?? '')?.textContent ?? null,
});

describe('a field with a list under it', () => {
  test('is drawn by the server as an input with its words', () => {
    const html = renderToString(<Picker label="What bird?" value="gull" options={[]} onChange={() => {}} />);
    expect(html).toMatch(/<input[^>]*role="combobox"[^>]*value="gull"/);
  });

  test('opens while one types; the arrows walk round, Enter takes, and what the list says is told', () => {
    show(<Field />);
    expect(states()).toEqual({ open: 'false', list: null, active: null });
    type('gull');
    expect(names()).toEqual(GULLS);
    expect(states()).toEqual({ open: 'true', list: 'listbox', active: null });
    expect(screen.getByRole('status').textContent).toContain('3 entries');
    press('ArrowDown');
    expect(states().active).toBe('Herring Gull');
    press('ArrowUp');
    expect(states().active).toBe('Laughing Gull');
    press('ArrowDown');
    press('ArrowDown');
    expect(screen.getByRole('option', { selected: true }).textContent).toBe('Ring-billed Gull');
    press('Enter');
    expect(box().value).toBe('Ring-billed Gull');
    expect(names()).toEqual([]);
  });

  test('a pointer takes an option and leaves the focus in the field', () => {
    show(<Field />);
    box().focus();
    type('gull');
    const option = screen.getByRole('option', { name: 'Laughing Gull' });
    expect(fireEvent.mouseDown(option), 'the focus would go with it').toBe(false);
    fireEvent.click(option);
    expect(box().value).toBe('Laughing Gull');
    expect(document.activeElement).toBe(box());
  });

  test('Enter belongs to the form, Escape closes, and leaving the field keeps the words', () => {
    show(<Field />);
    type('some gull');
    expect(press('Enter'), 'nothing was walked to').toBe(true);
    expect(press('Escape')).toBe(false);
    expect(names()).toEqual([]);
    expect(press('Escape'), 'the second is for whatever stands around it').toBe(true);
    type('some gulls');
    fireEvent.blur(box());
    expect(names()).toEqual([]);
    expect(box().value).toBe('some gulls');
    fireEvent.focus(box());
    expect(names()).toEqual(GULLS);
  });

  test('keys of somebody who is composing a word are left alone', () => {
    show(<Field />);
    type('gull');
    expect(press('ArrowDown', { isComposing: true })).toBe(true);
    expect(states().active).toBeNull();
  });

  test('an option that is no longer offered cannot be taken', () => {
    const { rerender } = show(<Picker label="What bird?" value="gu" options={GULLS} onChange={() => {}} />);
    fireEvent.focus(box());
    press('ArrowDown');
    expect(states().active).toBe('Herring Gull');
    rerender(<Picker label="What bird?" value="gul" options={['Ross’s Gull']} onChange={() => {}} />);
    expect(states().active).toBeNull();
    expect(press('Enter')).toBe(true);
  });
});
