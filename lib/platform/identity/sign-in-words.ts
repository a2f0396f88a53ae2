/** What the sign-in says to its page instead of a sentence: it must ask for more. */
export const CODE_ASKED = 'SecondFactorAsked';
/** Followed by the token of a link: this account must set a second factor up before it can sign in. */
export const ENROL_FIRST = 'SecondFactorSetUp:';
