// @vitest-environment jsdom
import { cleanup, fireEvent, render, screen } from '@testing-library/react';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { BoxMap, type BoxOccupant } from '@/components/storage/box-map';

afterEach(cleanup);

const grid = { rows: 3, columns: 4, scheme: 'row-letter' as const };
const occupant = (label: string, look: BoxOccupant['look'] = 'stored'): BoxOccupant => ({
  materialId: label,
  label,
  mark: 'T1',
  look,
});
const occupants = new Map([
  [0, occupant('LV-1-T1, liver')],
  [5, occupant('LV-2-T1, heart', 'on-loan')],
]);

function show() {
  const onSelect = vi.fn();
  const onMove = vi.fn();
  render(
    <BoxMap
      name="Box 1"
      grid={grid}
      occupants={occupants}
      selected={null}
      onSelect={onSelect}
      onMove={onMove}
    />,
  );
  const cell = (name: RegExp) => screen.getByRole('gridcell', { name });
  return { onSelect, onMove, cell };
}

describe('the box map', () => {
  it('says what stands where to those who do not see it', () => {
    const { cell } = show();
    expect(screen.getByRole('grid', { name: 'Box 1: 2 of 12 positions taken' })).toBeTruthy();
    expect(cell(/^A1, LV-1-T1, liver, stored$/)).toBeTruthy();
    expect(cell(/^B2, LV-2-T1, heart, out on loan$/)).toBeTruthy();
    expect(cell(/^C4, free$/)).toBeTruthy();
    expect(screen.getAllByRole('row')).toHaveLength(3);
  });

  it('has one stop for the Tab key and walks by arrows, held at the edges', () => {
    const { cell, onSelect } = show();
    const inTabOrder = screen.getAllByRole('gridcell').filter((one) => one.getAttribute('tabindex') === '0');
    expect(inTabOrder).toHaveLength(1);
    cell(/^A1/).focus();
    const press = (key: string, rest = {}) => {
      if (document.activeElement) fireEvent.keyDown(document.activeElement, { key, ...rest });
    };
    press('ArrowUp');
    press('ArrowRight');
    press('ArrowDown');
    expect(document.activeElement).toBe(cell(/^B2/));
    press('End', { ctrlKey: true });
    expect(document.activeElement).toBe(cell(/^C4/));
    press('Enter');
    expect(onSelect).toHaveBeenCalledWith(11);
  });

  it('moves a vial by keyboard to a free position only, and tells so', () => {
    const { cell, onMove } = show();
    fireEvent.keyDown(cell(/^A1/), { key: 'm' });
    expect(screen.getByText(/picked up from A1/)).toBeTruthy();
    fireEvent.keyDown(cell(/^B2/), { key: 'm' });
    expect(screen.getByText('B2 already holds LV-2-T1, heart.')).toBeTruthy();
    expect(onMove).not.toHaveBeenCalled();
    fireEvent.keyDown(cell(/^C4/), { key: 'm' });
    expect(onMove).toHaveBeenCalledWith(0, 11);
  });

  it('Escape leaves it where it was', () => {
    const { cell, onMove } = show();
    fireEvent.keyDown(cell(/^A1/), { key: 'm' });
    fireEvent.keyDown(cell(/^A1/), { key: 'Escape' });
    fireEvent.keyDown(cell(/^C4/), { key: 'm' });
    expect(onMove).not.toHaveBeenCalled();
  });

  it('moves by dragging, not from a free position and not onto a taken one', () => {
    const { cell, onMove } = show();
    const drag = (from: RegExp, to: RegExp) => {
      fireEvent.pointerDown(cell(from));
      fireEvent.pointerUp(cell(to));
    };
    drag(/^C4/, /^C3/);
    drag(/^A1/, /^B2/);
    expect(onMove).not.toHaveBeenCalled();
    drag(/^A1/, /^A2/);
    expect(onMove).toHaveBeenCalledWith(0, 1);
  });

  it('without leave to move, neither key nor drag moves', () => {
    render(<BoxMap name="Box 1" grid={grid} occupants={occupants} selected={0} onSelect={() => {}} />);
    const from = screen.getByRole('gridcell', { name: /^A1/ });
    fireEvent.keyDown(from, { key: 'm' });
    expect(screen.queryByText(/picked up/)).toBeNull();
    expect(from.getAttribute('aria-selected')).toBe('true');
  });
});
