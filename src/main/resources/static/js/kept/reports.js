// Reports that were sent without a network: which wait, and where the answers of the others are.
import { actions, element, named } from "./page.js";
import { CAB, present, thing } from "./store.js";

export async function reports(place) {
  const who = location.pathname.startsWith("/r/") ? CAB : await present();
  const show = async () => {
    const waiting = (await actions()).filter((action) => action.who === who && action.verb === "report");
    const sent = ((await thing(who, "reports")) ?? []).filter(
      ({ address }) => who !== CAB || new URL(address).pathname.startsWith(location.pathname.replace(/kept$/, "")),
    );
    place.replaceChildren(
      ...waiting.map((action) => element("li", "", `${named(action)}: waits to be sent. The answer follows.`)),
      ...sent.map((report) => {
        const item = element("li", "", `Report of ${new Date(report.doneAt).toTimeString().slice(0, 5)}: sent. `);
        const link = element("a", "", "Its answer");
        link.href = new URL(report.address).pathname;
        item.append(link);
        return item;
      }),
    );
  };
  document.addEventListener("kept", show);
  await show();
}
