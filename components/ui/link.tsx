'use client';

import NextLink from 'next/link';
import { type ComponentProps, useState } from 'react';

/**
 * A link to another page. What shows at once after the press is fetched when somebody points at the link, comes to it
 * by key or touches it, not when it comes into sight: a list would ask the server once for each of its rows.
 */
export function Link({
  onPointerEnter,
  onFocus,
  ...props
}: Omit<ComponentProps<typeof NextLink>, 'prefetch'>) {
  const [isMeant, setMeant] = useState(false);
  return (
    <NextLink
      {...props}
      prefetch={isMeant ? null : false}
      onPointerEnter={(event) => {
        setMeant(true);
        onPointerEnter?.(event);
      }}
      onFocus={(event) => {
        setMeant(true);
        onFocus?.(event);
      }}
    />
  );
}
