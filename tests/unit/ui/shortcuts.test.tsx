// @vitest-environment jsdom
import { MantineProvider } from '@mantine/core';
import { fireEvent, screen, within } from '@testing-library/react';
import { beforeEach, describe, expect, test, vi } from 'vitest';
import { KeyboardSheet } from '@/components/ui/shortcuts/keyboard-sheet';
import {
  AREAS,
  type Area,
  actOf,
  ariaKeysOf,
  capsOf,
  SHORTCUTS,
  type ShortcutId,
  shortcutOf,
  shortcutsIn,
} from '@/components/ui/shortcuts/table';
import { useKeyArea, useShortcuts } from '@/components/ui/shortcuts/use-shortcuts';
import { theme } from '@/components/ui/theme';
import { show } from './render';

const pressed = (key: string, mods: Partial<Record<'ctrlKey' | 'metaKey' | 'altKey', boolean>> = {}) => ({
  key,
  ctrlKey: false,
  metaKey: false,
  altKey: false,
  ...mods,
});

describe('the table of shortcuts', () => {
  const areas = Object.keys(AREAS) as Area[];
  test('every shortcut belongs to an area, and every area has some', () => {
    expect(areas.flatMap((area) => shortcutsIn(area)).sort()).toEqual(Object.keys(SHORTCUTS).sort());
    for (const area of areas) expect(shortcutsIn(area).length).toBeGreaterThan(0);
  });
  test('no key means two things in one area', () => {
    for (const area of areas) {
      const keys = shortcutsIn(area).flatMap((id: ShortcutId) => shortcutOf(id).keys);
      expect(new Set(keys).size).toBe(keys.length);
    }
  });
  test.each([
    ['everywhere', pressed('k', { ctrlKey: true }), 'everywhere.menu'],
    ['everywhere', pressed('K', { metaKey: true }), 'everywhere.menu'],
    ['everywhere', pressed('k'), null],
    ['everywhere', pressed('k', { ctrlKey: true, altKey: true }), null],
    ['everywhere', pressed('?'), 'everywhere.keys'],
    ['review', pressed('a'), 'review.approve'],
    // A scanner's capitals decide nothing.
    ['review', pressed('A'), null],
    ['review', pressed('a', { ctrlKey: true }), null],
    ['review', pressed('Enter', { ctrlKey: true }), 'review.send'],
    ['review', pressed('Enter'), null],
    ['bones', pressed('M'), 'bones.missing'],
    ['box', pressed('Home', { ctrlKey: true }), 'box.corners'],
    ['box', pressed('Home'), 'box.ends'],
  ] as const)('in %s %o is %s', (area, key, id) => expect(actOf(area as Area, key)).toBe(id));

  test('caps and what screen readers are told', () => {
    expect(capsOf('everywhere.menu')).toEqual([['Ctrl', 'K']]);
    expect(capsOf('everywhere.menu', true)).toEqual([['⌘', 'K']]);
    expect(capsOf('list.next')).toEqual([['↓'], ['J']]);
    expect(capsOf('bones.missing')).toEqual([['M']]);
    expect(ariaKeysOf('everywhere.menu')).toBe('Control+k Meta+k');
  });
});

function Review({ approve, send }: { approve?: () => void; send?: () => void }) {
  useShortcuts('review', { 'review.approve': approve, 'review.send': send });
  return <input aria-label="Remark" />;
}

function List() {
  useKeyArea('list');
  return null;
}

function Page({ isReviewing }: { isReviewing: boolean }) {
  return (
    <>
      {isReviewing && <Review />}
      <List />
      <List />
      <KeyboardSheet opened onClose={() => {}} />
    </>
  );
}

describe('keys on a page', () => {
  beforeEach(() => localStorage.clear());

  test('a letter acts on the page, never in a field; a key with Ctrl acts in both', () => {
    const approve = vi.fn();
    const send = vi.fn();
    show(<Review approve={approve} send={send} />);
    const field = screen.getByRole('textbox');
    expect(fireEvent.keyDown(field, { key: 'a' })).toBe(true);
    expect(approve).not.toHaveBeenCalled();
    fireEvent.keyDown(field, { key: 'Enter', ctrlKey: true });
    expect(send).toHaveBeenCalledOnce();
    // Not written into a field that the act gives the focus to.
    expect(fireEvent.keyDown(document.body, { key: 'a' })).toBe(false);
    expect(approve).toHaveBeenCalledOnce();
  });

  test('an act that is not allowed leaves the key to the page', () => {
    show(<Review />);
    expect(fireEvent.keyDown(document.body, { key: 'a' })).toBe(true);
  });

  test('nothing acts under an open dialog', () => {
    const approve = vi.fn();
    show(
      <>
        <Review approve={approve} />
        <div role="dialog" aria-modal="true" />
      </>,
    );
    fireEvent.keyDown(document.body, { key: 'a' });
    expect(approve).not.toHaveBeenCalled();
  });

  test('who turned letters off is left alone by them', () => {
    localStorage.setItem('furcula-single-signs', 'false');
    const approve = vi.fn();
    const send = vi.fn();
    show(<Review approve={approve} send={send} />);
    fireEvent.keyDown(document.body, { key: 'a' });
    fireEvent.keyDown(document.body, { key: 'Enter', metaKey: true });
    expect(approve).not.toHaveBeenCalled();
    expect(send).toHaveBeenCalledOnce();
  });

  test('the sheet lists the keys of what is on the page, and no others', () => {
    const { rerender } = show(<Page isReviewing />);
    const sheet = screen.getByRole('dialog', { name: 'Keys of this page' });
    const titles = () =>
      within(sheet)
        .getAllByRole('heading', { level: 3 })
        .map((head) => head.textContent);
    expect(titles()).toEqual([AREAS.review, AREAS.list]);
    const review = within(sheet).getByRole('region', { name: AREAS.review });
    const described = [...review.querySelectorAll('dd')].map((dd) => dd.textContent);
    expect(described).toEqual(shortcutsIn('review').map((id) => SHORTCUTS[id].does));
    rerender(
      <MantineProvider theme={theme} env="test">
        <Page isReviewing={false} />
      </MantineProvider>,
    );
    expect(titles()).toEqual([AREAS.list]);
  });
});
