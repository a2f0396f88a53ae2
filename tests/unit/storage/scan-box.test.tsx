// @vitest-environment jsdom
import { fireEvent, screen } from '@testing-library/react';
import { expect, it, vi } from 'vitest';
import { ScanBox } from '@/components/storage/scan-box';
import { show } from '../ui/render';

it('gives each code on, empties itself and keeps the focus for the next', () => {
  const onCode = vi.fn();
  show(
    <ScanBox
      label="Scan a vial"
      onCode={onCode}
      autoFocus
      message={{ tone: 'stop', text: 'Box 1 A1 already holds T1.' }}
    />,
  );
  const field = screen.getByLabelText('Scan a vial');
  expect(document.activeElement).toBe(field);
  for (const code of [' SB-1-T1 ', 'SB-1-T2', '  ']) {
    fireEvent.change(field, { target: { value: code } });
    fireEvent.submit(field);
  }
  expect(onCode.mock.calls).toEqual([['SB-1-T1'], ['SB-1-T2']]);
  expect((field as HTMLInputElement).value.trim()).toBe('');
  expect(document.activeElement).toBe(field);
  expect(screen.getByRole('status').textContent).toBe('Box 1 A1 already holds T1.');
  expect(screen.queryByRole('button', { name: 'Camera' })).toBeNull();
});
