import { render } from "preact";
import "uplot/dist/uPlot.min.css";
import "./style/base.css";
import "./style/plan.css";
import "./style/brew.css";
import { awake } from "./keep/queue";
import { follow } from "./keep/record";
import { Shell } from "./shell";

const page = document.getElementById("page");
void awake();
follow();
if (page) render(<Shell />, page);

// Opens again without a network. Only where the browser allows it: https, or this machine.
if ("serviceWorker" in navigator && import.meta.env.PROD) void navigator.serviceWorker.register("./worker.js").catch(() => undefined);
