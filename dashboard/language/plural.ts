/** Forms of a counted noun; `one` and `other` for our languages, further ones where a language has them. */
export type PluralForms = { one: string; other: string } & Partial<
  Record<Intl.LDMLPluralRule, string>
>;

/** Chooses the form of a counted noun by the rules of a language (CLDR, by `Intl.PluralRules`). */
export function pluralsOf(language: string): (n: number, forms: PluralForms) => string {
  const rules = new Intl.PluralRules(language);
  return (n, forms) => forms[rules.select(n)] ?? forms.other;
}
