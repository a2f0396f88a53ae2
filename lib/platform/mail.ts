import 'server-only';
import { createTransport } from 'nodemailer';
import { settings } from './env';

export type Mail = {
  to: { name: string; address: string };
  subject: string;
  /** Plain text. */
  text: string;
  /** The same for every delivery of one mail, so that a mailbox can tell a repetition. */
  id: string;
  /** Page where the reader ends such mail; null where the installation's address is not known. */
  preferences: string | null;
};

const TIMEOUT_MS = 30_000;

/** Whether this installation has a mail server. */
export const canMail = (): boolean => settings().SMTP_URL !== undefined;

/** Where people reach this installation from outside; null where no setting says. */
export const publicAddress = (): string | null => settings().FURCULA_URL ?? settings().NEXTAUTH_URL ?? null;

/**
 * Hands one mail to the mail server and returns once it has taken it.
 * @throws Error when there is no server, it cannot be reached, or it refuses the mail
 */
export async function sendMail(mail: Mail): Promise<void> {
  const { SMTP_URL, MAIL_FROM } = settings();
  if (SMTP_URL === undefined || MAIL_FROM === undefined) throw new Error('SMTP_URL is not set.');
  const transport = createTransport({
    url: SMTP_URL,
    connectionTimeout: TIMEOUT_MS,
    greetingTimeout: TIMEOUT_MS,
    socketTimeout: TIMEOUT_MS,
    disableFileAccess: true,
    disableUrlAccess: true,
  });
  try {
    await transport.sendMail({
      from: MAIL_FROM,
      to: mail.to,
      subject: mail.subject,
      text: mail.text,
      messageId: `<${mail.id}@${
        MAIL_FROM.split('@')
          .at(-1)
          ?.replace(/[^\w.-].*$/, '') ?? 'furcula'
      }>`,
      headers: {
        // RFC 3834: nobody's holiday notice should answer it.
        'Auto-Submitted': 'auto-generated',
        ...(mail.preferences === null ? {} : { 'List-Unsubscribe': `<${mail.preferences}>` }),
      },
    });
  } finally {
    transport.close();
  }
}
