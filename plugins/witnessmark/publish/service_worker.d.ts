// What the build writes above service_worker.js.
/** Names the release by everything that it is made of. */
declare const RELEASE: string;
/** The files of the release: the beginning of their SHA-256 by their name. */
declare const FILES: Readonly<Record<string, string>>;
