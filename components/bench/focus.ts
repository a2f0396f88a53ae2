/** Moving about a record by keyboard. Every control of a field carries data-bench-control. */
export const DICTATION_ID = 'dictation';

/** The next field's control after this one; the dictation line after the last. */
export function focusNext(from: HTMLElement): void {
  const controls = [...document.querySelectorAll<HTMLElement>('[data-bench-control]')];
  const next = controls[controls.indexOf(from) + 1];
  if (next === undefined) focusDictation();
  else next.focus();
}

export function focusDictation(): void {
  document.getElementById(DICTATION_ID)?.focus();
}
