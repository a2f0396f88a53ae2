'use client';

import { Button } from '@mantine/core';
import { useState } from 'react';
import type { LaterPart } from '@/components/ui/later';

/** The button of a tool that opens over the page; what it opens, with its positioning, comes with the first press. */
export function ToolButton<Props extends object>({
  label,
  part: Part,
  props,
}: {
  label: string;
  /** Draws the same button again, with its window open. */
  part: LaterPart<Props>;
  props: Props;
}) {
  const [wanted, setWanted] = useState(false);
  if (wanted) return <Part {...props} />;
  return (
    <Button
      variant="default"
      aria-haspopup="dialog"
      aria-expanded={false}
      onPointerEnter={Part.prepare}
      onFocus={Part.prepare}
      onClick={() => setWanted(true)}
    >
      {label}
    </Button>
  );
}
