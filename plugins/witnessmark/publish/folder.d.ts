// What "witnessmark pack" writes above folder.js.
/** The scripts that hand over the files of a part, by the beginning of what asks for it. */
declare const PARTS: Readonly<Record<string, readonly string[]>>;
/** The module that a page starts. */
declare const MAIN: string;
