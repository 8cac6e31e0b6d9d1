// Small and readable by any browser of the last years: unpacks data and script of the view, and starts it.
import { unzlibSync } from "fflate";
import { bytesOf } from "./unpack.js";

const unpacked = (id) => unzlibSync(bytesOf(document.getElementById(id).textContent.trim()));

try {
  window.fixturegenData = JSON.parse(new TextDecoder().decode(unpacked("view-data")));
  const script = document.createElement("script");
  script.textContent = new TextDecoder().decode(unpacked("view-code"));
  document.head.append(script); // runs at once
} catch (fault) {
  console.info("no 3-D view:", fault.message);
}
if (!document.documentElement.dataset.view) {
  // no WebGL, or too old a browser: pictures and tables are all there
  document.getElementById("view").hidden = true;
  document.getElementById("view-none").hidden = false;
  document.documentElement.dataset.view = "none";
}
