/** The page with every calculator. */
import "./elements.js";
import { chrome } from "./page.js";

chrome();
