/** The wishbone: two arms that grow from one dot. Decorative; the word beside it is the name. */
export function Mark({ size = 28 }: { size?: number }) {
  return (
    <svg width={size} height={size} viewBox="0 0 32 32" fill="none" aria-hidden="true" focusable="false">
      <path
        d="M6.5 5.5C4.5 14 8.5 21 16 25.5C23.5 21 27.5 14 25.5 5.5"
        stroke="currentColor"
        strokeWidth="2"
        strokeLinecap="round"
      />
      <circle cx="16" cy="26" r="3.5" fill="currentColor" />
      <circle cx="6.5" cy="5" r="2.25" fill="currentColor" />
      <circle cx="25.5" cy="5" r="2.25" fill="currentColor" />
    </svg>
  );
}
