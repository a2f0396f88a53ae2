'use client';

import { MantineProvider } from '@mantine/core';
import { QueryClient, QueryClientProvider } from '@tanstack/react-query';
import dynamic from 'next/dynamic';
import { type ReactNode, useState } from 'react';
import { z } from 'zod';
import { LanguageContext } from '@/lib/platform/words/ambient-page';
import { InchesContext } from '@/lib/platform/words/inches';
import type { Language } from '@/lib/platform/words/languages';
import { askForLetters } from './early-fonts';
import { isFinalError } from './problem';
import { cssVariablesResolver, theme } from './theme';

// Schemas are not compiled to code in the browser: the pages' policy forbids it.
z.config({ jitless: true });

const SECOND_MS = 1000;

/** No page begins with a notice, so what draws them comes after it. */
const Notifications = dynamic(() => import('@mantine/notifications').then((module) => module.Notifications), {
  ssr: false,
});

/** Without a connection requests are tried and fail in words, instead of waiting unseen. */
function makeQueryClient(): QueryClient {
  return new QueryClient({
    defaultOptions: {
      queries: {
        staleTime: 15 * SECOND_MS,
        networkMode: 'always',
        retry: (failures, error) => failures < 2 && !isFinalError(error),
      },
      mutations: { networkMode: 'always', retry: false },
    },
  });
}

type ProvidersProps = { language: Language; inches: boolean; children: ReactNode };

/** Everything the pages share in the browser: theme, notices, and the store of what was fetched. */
export function Providers({ language, inches, children }: ProvidersProps) {
  askForLetters();
  const [queryClient] = useState(makeQueryClient);
  return (
    <LanguageContext value={language}>
      <InchesContext value={inches}>
        <QueryClientProvider client={queryClient}>
          <MantineProvider
            theme={theme}
            cssVariablesResolver={cssVariablesResolver}
            defaultColorScheme="auto"
          >
            <Notifications position="bottom-right" autoClose={6 * SECOND_MS} />
            {children}
          </MantineProvider>
        </QueryClientProvider>
      </InchesContext>
    </LanguageContext>
  );
}
