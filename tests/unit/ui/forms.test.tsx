// @vitest-environment jsdom
import { act, fireEvent, screen, waitFor, within } from '@testing-library/react';
import { describe, expect, test, vi } from 'vitest';
import { ConfirmInline } from '@/components/ui/confirm-inline';
import { ConflictMerge } from '@/components/ui/conflict-merge';
import { ErrorSummary } from '@/components/ui/error-summary';
import { fieldId } from '@/components/ui/field-id';
import { MeasureField } from '@/components/ui/labelled-field';
import { SaveState } from '@/components/ui/save-state';
import { show } from './render';

const button = (name: string) => screen.getByRole('button', { name });

describe('ConfirmInline', () => {
  const discard = (onConfirm: (reason: string) => unknown) => (
    <ConfirmInline
      act="Discard this bird"
      question="Discard S-1?"
      confirm="Discard it"
      reason={{ label: 'Why' }}
      onConfirm={onConfirm}
    />
  );

  test('focus goes to the way back, Escape leaves everything, focus returns', () => {
    const onConfirm = vi.fn();
    show(discard(onConfirm));
    fireEvent.click(button('Discard this bird'));
    expect(document.activeElement).toBe(button('Leave it as it is'));
    fireEvent.keyDown(document.activeElement ?? document.body, { key: 'Escape' });
    expect(document.activeElement).toBe(button('Discard this bird'));
    expect(onConfirm).not.toHaveBeenCalled();
  });

  test('it needs the reason, and hands it over', async () => {
    const onConfirm = vi.fn();
    show(discard(onConfirm));
    fireEvent.click(button('Discard this bird'));
    expect(button('Discard it').hasAttribute('disabled')).toBe(true);
    fireEvent.change(screen.getByLabelText(/Why/), { target: { value: '  rotten ' } });
    await act(async () => fireEvent.click(button('Discard it')));
    expect(onConfirm).toHaveBeenCalledExactlyOnceWith('rotten');
    await waitFor(() => expect(button('Discard this bird')).toBeTruthy());
  });

  test('a refusal keeps the question and the words', async () => {
    show(discard(() => Promise.reject(new Error('locked'))));
    fireEvent.click(button('Discard this bird'));
    fireEvent.change(screen.getByLabelText(/Why/), { target: { value: 'rotten' } });
    await act(async () => fireEvent.click(button('Discard it')));
    expect((screen.getByLabelText(/Why/) as HTMLTextAreaElement).value).toBe('rotten');
  });
});

describe('ErrorSummary and MeasureField', () => {
  test('the summary takes the focus and its lines lead to the fields', () => {
    show(
      <>
        <ErrorSummary problems={[{ path: 'measures.0.wingMm', message: 'Wing must be above 0' }]} />
        <MeasureField
          label="Wing"
          unit="mm"
          name="measures.0.wingMm"
          value="-3"
          onChange={() => {}}
          error="Wing must be above 0"
          help="Flattened"
        />
      </>,
    );
    expect(document.activeElement).toBe(screen.getAllByRole('alert')[0]);
    fireEvent.click(screen.getByRole('link', { name: 'Wing must be above 0' }));
    const field = screen.getByRole('textbox', { name: 'Wing in mm' });
    expect(document.activeElement).toBe(field);
    expect(field.id).toBe(fieldId('measures.0.wingMm'));
    expect(field.getAttribute('aria-invalid')).toBe('true');
    const described = (field.getAttribute('aria-describedby') ?? '').split(' ');
    expect(described.map((id) => document.getElementById(id)?.textContent)).toEqual([
      'Flattened',
      'Wing must be above 0',
    ]);
  });
});

describe('ConflictMerge', () => {
  type Bird = { wing: string; fat: string; sex: string };
  const mine: Bird = { wing: '131', fat: 'little', sex: 'female' };
  const theirs: Bird = { wing: '130', fat: 'none', sex: 'female' };
  const base: Bird = { wing: '129', fat: 'none', sex: 'female' };
  const merge = (onMerge: (bird: Bird) => void, from?: Bird) =>
    show(
      <ConflictMerge<Bird>
        fields={[
          { name: 'wing', label: 'Wing' },
          { name: 'fat', label: 'Fat' },
          { name: 'sex', label: 'Sex' },
        ]}
        mine={mine}
        theirs={theirs}
        base={from}
        who="Pelle Lind"
        onMerge={onMerge}
        onTakeTheirs={() => {}}
      />,
    );

  test('only what differs is asked, what settles itself is chosen, saving waits for the rest', () => {
    const onMerge = vi.fn();
    merge(onMerge, base);
    expect(screen.getAllByRole('group').map((group) => within(group).getAllByRole('radio').length)).toEqual([
      2, 2,
    ]);
    expect(button('Save the chosen version').hasAttribute('disabled')).toBe(true);
    fireEvent.click(
      within(screen.getByRole('group', { name: 'Wing' })).getByRole('radio', { name: /Pelle Lind/ }),
    );
    fireEvent.click(button('Save the chosen version'));
    expect(onMerge).toHaveBeenCalledExactlyOnceWith({ wing: '130', fat: 'little', sex: 'female' });
  });

  test('without the common start every difference is open', () => {
    merge(() => {});
    expect(screen.getByText('2 fields to choose')).toBeTruthy();
    expect(screen.getAllByRole('radio').filter((radio) => (radio as HTMLInputElement).checked)).toEqual([]);
  });
});

describe('SaveState', () => {
  test.each([
    [{ kind: 'saving' } as const, 'Saving…'],
    [{ kind: 'not-sent', changes: 1 } as const, 'Not sent yet: 1 change kept on this device'],
    [{ kind: 'not-sent', changes: 3 } as const, 'Not sent yet: 3 changes kept on this device'],
    [{ kind: 'failed', why: 'the record is locked' } as const, 'Not saved: the record is locked'],
    [{ kind: 'saved' } as const, 'Saved'],
  ])('%o', (status, words) => {
    show(<SaveState status={status} />);
    expect(screen.getByRole('status').textContent).toBe(words);
  });
});
