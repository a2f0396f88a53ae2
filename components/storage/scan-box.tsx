'use client';

import { Button, TextInput } from '@mantine/core';
import { IconCamera, IconScan } from '@tabler/icons-react';
import { type FormEvent, useEffect, useRef, useState } from 'react';
import { say } from '@/lib/platform/words/say';
import { CameraScan, mayScanByCamera } from './camera-scan';
import classes from './scan-box.module.css';

export type ScanMessage = { tone: 'settled' | 'attention' | 'stop'; text: string };

/**
 * Takes codes from a scanner that types (it ends with Enter), from the keyboard, or from the device's camera where the
 * browser can read codes. Keeps the focus, so that one code follows another, and says what became of the last.
 */
export function ScanBox({
  label,
  help,
  busy = false,
  message,
  autoFocus = false,
  onCode,
}: {
  label: string;
  help?: string;
  busy?: boolean;
  message?: ScanMessage | null;
  autoFocus?: boolean;
  onCode: (code: string) => void;
}) {
  const input = useRef<HTMLInputElement>(null);
  const [camera, setCamera] = useState(false);
  const [canCamera, setCanCamera] = useState(false);
  useEffect(() => setCanCamera(mayScanByCamera()), []);
  useEffect(() => {
    if (autoFocus) input.current?.focus({ preventScroll: true });
  }, [autoFocus]);

  const submit = (event: FormEvent) => {
    event.preventDefault();
    const field = input.current;
    const code = field?.value.trim() ?? '';
    if (field === null || code === '') return;
    // A fast scanner is already typing the next code.
    field.value = '';
    field.focus();
    onCode(code);
  };
  return (
    <div className={classes.box}>
      <form onSubmit={submit} className={classes.row} data-scan-box="">
        <TextInput
          ref={input}
          label={label}
          description={help}
          leftSection={<IconScan size={20} stroke={1.5} aria-hidden="true" />}
          autoComplete="off"
          autoCapitalize="off"
          spellCheck={false}
          enterKeyHint="done"
          className={classes.field}
        />
        <Button type="submit" variant="default" loading={busy}>
          {say('Take')}
        </Button>
        {canCamera && (
          <Button
            variant="default"
            leftSection={<IconCamera size={18} stroke={1.5} aria-hidden="true" />}
            aria-pressed={camera}
            onClick={() => setCamera(!camera)}
          >
            {camera ? say('Close the camera') : say('Camera')}
          </Button>
        )}
      </form>
      {camera && <CameraScan onCode={onCode} onEnd={() => setCamera(false)} />}
      <p className={classes.message} data-tone={message?.tone} role="status">
        {message?.text ?? ''}
      </p>
    </div>
  );
}
