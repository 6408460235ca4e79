/** The plan page: shows the map of the plan. Everything else works without this. */
import { showMaps } from "../map/viewer.js";

showMaps(document);
