/** How a command ends. */

/** 0 nothing at or above the asked severity, 1 something was found, 2 could not run. */
export type ExitCode = 0 | 1 | 2;

/** Ends a command with exit code 2; the message is a sentence for the user. */
export class CannotRun extends Error {}
