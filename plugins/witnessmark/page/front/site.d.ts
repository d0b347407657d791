// The shape of site.js, which is generated when a site is built.
export const runtime: string;
export const bundle: string;
export const packages: readonly string[];
export const modules: readonly string[];
/** Null when the site was built without a heap image. */
export const image:
  | (import("./restore.js").Image & {
      readonly script: string;
      readonly module: string;
      readonly translatable: string;
      readonly unpacker: string;
      readonly file: string;
    })
  | null;
