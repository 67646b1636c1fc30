import { render } from "preact";
import "uplot/dist/uPlot.min.css";
import "./style/base.css";
import "./style/plan.css";
import "./style/brew.css";
import { awake } from "./keep/queue";
import { follow } from "./keep/record";
import { Lost, Shell } from "./shell";

const page = document.getElementById("page");
if (page?.dataset.lost !== undefined) {
  render(<Lost />, page);   // the server has no such page; what it is asked from here would be lost as well
} else if (page) {
  void awake();
  follow();
  render(<Shell />, page);
}

// Opens again without a network. Only where the browser allows it: https, or this machine.
if ("serviceWorker" in navigator && import.meta.env.PROD && page?.dataset.lost === undefined) void navigator.serviceWorker.register("./worker.js").catch(() => undefined);
