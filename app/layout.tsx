import '@fontsource-variable/source-sans-3/wght.css';
import '@fontsource-variable/source-sans-3/wght-italic.css';
import '@fontsource-variable/source-serif-4/wght.css';
import '@fontsource-variable/source-serif-4/wght-italic.css';
import '@/components/ui/letters.css';
import '@/components/ui/library-styles';
import './globals.css';

import { ColorSchemeScript, mantineHtmlProps } from '@mantine/core';
import type { Metadata, Viewport } from 'next';
import { cookies, headers } from 'next/headers';
import type { ReactNode } from 'react';
import { colourCss, DARK, LIGHT } from '@/components/ui/colours';
import { Providers } from '@/components/ui/providers';
import { INCHES_COOKIE } from '@/lib/platform/words/languages';
import { settlePageLanguage, wordsAddress } from '@/lib/platform/words/request-language';

export const metadata: Metadata = {
  title: { default: 'Furcula', template: '%s · Furcula' },
  description: 'Every salvaged bird accounted for, from the finder to the drawer and the annual report.',
  applicationName: 'Furcula',
  manifest: '/manifest.webmanifest',
  icons: {
    icon: [{ url: '/icons/furcula.svg', type: 'image/svg+xml' }],
    apple: [{ url: '/icons/furcula-192.png', sizes: '192x192' }],
  },
  robots: { index: false, follow: false },
};

export const viewport: Viewport = {
  width: 'device-width',
  initialScale: 1,
  themeColor: [
    { media: '(prefers-color-scheme: light)', color: LIGHT.paper },
    { media: '(prefers-color-scheme: dark)', color: DARK.paper },
  ],
};

export default async function RootLayout({ children }: { children: ReactNode }) {
  const nonce = (await headers()).get('x-nonce') ?? undefined;
  const language = await settlePageLanguage();
  const words = wordsAddress(language);
  const inches = (await cookies()).get(INCHES_COOKIE)?.value === 'shown';
  return (
    <html lang={language} data-inches={inches ? 'shown' : undefined} {...mantineHtmlProps}>
      <head>
        <ColorSchemeScript defaultColorScheme="auto" nonce={nonce} />
        {words === null ? null : <script src={words} nonce={nonce} suppressHydrationWarning />}
        <style>{colourCss()}</style>
      </head>
      <body>
        <Providers language={language} inches={inches}>
          {children}
        </Providers>
      </body>
    </html>
  );
}
