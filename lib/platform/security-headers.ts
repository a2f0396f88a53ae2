import { ALWAYS } from './answer-headers.mjs';

/**
 * Headers of every page. Scripts run only with the nonce of their page. Styles may stand in pages, because the component
 * library puts measures there; they load nothing from elsewhere.
 */
export function securityHeaders(page: {
  nonce: string;
  /** The development server evaluates its own updates. */
  isDev: boolean;
  isHttps: boolean;
}): Record<string, string> {
  return {
    ...ALWAYS,
    'content-security-policy': pagePolicy(page),
    ...(page.isHttps ? { 'strict-transport-security': 'max-age=31536000' } : {}),
  };
}

function pagePolicy({ nonce, isDev }: { nonce: string; isDev: boolean }): string {
  return [
    "default-src 'self'",
    `script-src 'self' 'nonce-${nonce}' 'strict-dynamic'${isDev ? " 'unsafe-eval'" : ''}`,
    "style-src 'self' 'unsafe-inline'",
    "img-src 'self' data: blob:",
    "font-src 'self'",
    `connect-src 'self'${isDev ? ' ws:' : ''}`,
    "media-src 'self' blob:",
    // Without it the rule for scripts would hold, and 'strict-dynamic' knows no address.
    "worker-src 'self'",
    "object-src 'none'",
    "base-uri 'none'",
    "form-action 'self'",
    "frame-ancestors 'none'",
  ].join('; ');
}
