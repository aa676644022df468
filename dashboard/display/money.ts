import { locale } from "../language/live-words.ts";

/** An amount in the shop's currency; without one the bare number. */
export function moneyText(amount: number, currency: string | null): string {
  const options: Intl.NumberFormatOptions =
    currency === null
      ? { minimumFractionDigits: 2, maximumFractionDigits: 2 }
      : { style: "currency", currency };
  return new Intl.NumberFormat(locale.value, options).format(amount);
}
