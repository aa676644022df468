import type { ReferenceName } from "@leeward/shared-core/documents/common.ts";
import type { UnitChoice } from "../display/units.ts";
import { type LanguageChoice, languageCodes, languages } from "../language/languages.ts";
import { words } from "../language/words.ts";
import { Choice } from "../shell/choice.tsx";
import { Dialog } from "../shell/dialog.tsx";
import { languageChoice, type Theme, theme, units } from "./settings.ts";

const references: readonly ReferenceName[] = ["metric20", "iso", "trade", "normal", "us"];

/** Language, units, reference conditions and look, for this device. */
export function SettingsDialog({ onClose }: { onClose: () => void }) {
  const text = words.units;
  const set = (change: Partial<UnitChoice>) => {
    units.value = { ...units.value, ...change };
  };
  const { flow, pressure, temperature, reference } = units.value;
  return (
    <Dialog title={text.title} onClose={onClose}>
      <p class="quiet">{text.intro}</p>
      <Choice
        label={text.language}
        name="language"
        value={languageChoice.value}
        options={[
          { value: "device" as LanguageChoice, text: text.languageOfDevice },
          ...languageCodes.map((code) => ({ value: code, text: languages[code].name, lang: code })),
        ]}
        onChange={(value) => {
          languageChoice.value = value;
        }}
      />
      <Choice
        label={text.flow}
        name="flow-unit"
        value={flow}
        options={[
          { value: "L/min", text: "L/min" },
          { value: "CFH", text: "CFH" },
        ]}
        onChange={(value) => set({ flow: value })}
      />
      <Choice
        label={text.reference}
        name="reference"
        value={reference}
        options={references.map((value) => ({
          value,
          text: text.references[value],
          note: text.referenceNames[value],
        }))}
        onChange={(value) => set({ reference: value })}
      />
      <p class="quiet">{text.referenceNote}</p>
      <Choice
        label={text.pressure}
        name="pressure-unit"
        value={pressure}
        options={[
          { value: "bar", text: "bar" },
          { value: "psi", text: "psi" },
          { value: "kPa", text: "kPa" },
        ]}
        onChange={(value) => set({ pressure: value })}
      />
      <Choice
        label={text.temperature}
        name="temperature-unit"
        value={temperature}
        options={[
          { value: "C", text: "°C" },
          { value: "F", text: "°F" },
        ]}
        onChange={(value) => set({ temperature: value })}
      />
      <Choice
        label={text.theme}
        name="theme"
        value={theme.value}
        options={(["system", "light", "dark"] as const).map((value: Theme) => ({
          value,
          text: text.themes[value],
        }))}
        onChange={(value) => {
          theme.value = value;
        }}
      />
      <div class="dialog-actions">
        <button type="button" class="button button-strong" onClick={onClose}>
          {text.close}
        </button>
      </div>
    </Dialog>
  );
}
