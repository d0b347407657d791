// The shape of site.js, which is generated when a site is built.
export const runtime: string;
export const bundle: string;
export const packages: readonly string[];
export const modules: readonly string[];
