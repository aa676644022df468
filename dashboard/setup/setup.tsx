import { useEffect } from "preact/hooks";
import type { SetupPlace } from "../display/route.ts";
import { setupWords as text } from "../language/setup-words.ts";
import { words } from "../language/words.ts";
import { Header } from "../shell/header.tsx";
import { Nav } from "../shell/nav.tsx";
import { SetupHome } from "./home.tsx";
import { LabelPage } from "./label-page.tsx";
import { PhonePage } from "./phone-page.tsx";
import "./setup.css";
import { ShopPage } from "./shop-page.tsx";
import { ChangeStation, NewStation } from "./station-page.tsx";
import { ChangeSupply, NewSupply } from "./supply-page.tsx";

/** Stations, the shop, phones: everything that somebody sets up once. */
export function Setup({ place }: { place: SetupPlace }) {
  useEffect(() => {
    document.title = `${text.title} · ${words.productName}`;
    return () => {
      document.title = words.productName;
    };
  }, []);
  return (
    <>
      <Header>
        <span class="product">{words.productName}</span>
        <Nav here="setup" />
      </Header>
      <main id="content" class="setup" tabIndex={-1}>
        {place.part !== "home" && (
          <p class="setup-back no-print">
            <a href="#/setup">{text.back}</a>
          </p>
        )}
        {place.part === "home" && <SetupHome />}
        {place.part === "new" && <NewStation node={null} />}
        {place.part === "node" && <NewStation node={nodeOf(place.id)} />}
        {place.part === "station" && <ChangeStation id={place.id} />}
        {place.part === "new-supply" && <NewSupply />}
        {place.part === "supply" && <ChangeSupply id={place.id} />}
        {place.part === "label" && <LabelPage id={place.id} />}
        {place.part === "shop" && <ShopPage />}
        {place.part === "phone" && <PhonePage />}
      </main>
    </>
  );
}

function nodeOf(id: string): { site: string; node: string } {
  const [site = "", node = ""] = id.split(".");
  return { site, node };
}
