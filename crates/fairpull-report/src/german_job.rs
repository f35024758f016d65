//! German for what a reduction says: verdicts, soak, budget, notices, remarks on pulls, repairs, facts of car and rig.

use crate::text::{Phrases, phrases};

pub(crate) const PHRASES: Phrases = phrases! {
    // the verdict of a comparison
    "A gain of {n} ± {n} % on average from {n} to {n} 1/min (95 % interval {n} to {n} %)."
        => "Zuwachs von ({} ± {}) % im Mittel von {} bis {} 1/min (95-%-Vertrauensbereich {} bis {} %).";
    "A gain of {n} ± {n} % on average from {n} to {n} 1/min (95 % interval {n} to {n} %), provided that the factor applies; {n} % if the engine's control compensates for the ambient by itself."
        => "Zuwachs von ({} ± {}) % im Mittel von {} bis {} 1/min (95-%-Vertrauensbereich {} bis {} %), sofern der Korrekturfaktor gilt; {} %, falls die Motorregelung die Umgebung selbst ausgleicht.";
    "A loss of {n} ± {n} % on average from {n} to {n} 1/min (95 % interval {n} to {n} %)."
        => "Verlust von ({} ± {}) % im Mittel von {} bis {} 1/min (95-%-Vertrauensbereich {} bis {} %).";
    "A loss of {n} ± {n} % on average from {n} to {n} 1/min (95 % interval {n} to {n} %), provided that the factor applies; {n} % if the engine's control compensates for the ambient by itself."
        => "Verlust von ({} ± {}) % im Mittel von {} bis {} 1/min (95-%-Vertrauensbereich {} bis {} %), sofern der Korrekturfaktor gilt; {} %, falls die Motorregelung die Umgebung selbst ausgleicht.";
    "No detectable change: {n} ± {n} % on average from {n} to {n} 1/min; this job would detect {n} % or more. With 95 % confidence the change lies within ± {n} %."
        => "Keine nachweisbare Änderung: ({} ± {}) % im Mittel von {} bis {} 1/min; dieser Auftrag würde {} % oder mehr nachweisen. Mit 95 % Vertrauen liegt die Änderung innerhalb von ± {} %.";
    "No detectable change: {n} ± {n} % on average from {n} to {n} 1/min; this job would detect {n} % or more. With 95 % confidence the change lies within ± {n} %. If the change is as large as it looks, about {n} more pulls a state would show it."
        => "Keine nachweisbare Änderung: ({} ± {}) % im Mittel von {} bis {} 1/min; dieser Auftrag würde {} % oder mehr nachweisen. Mit 95 % Vertrauen liegt die Änderung innerhalb von ± {} %. Ist sie so groß, wie sie scheint, {7:würde|würden} etwa {7} {7:weiterer Lauf|weitere Läufe} je Zustand sie zeigen.";
    "Power up {n} % ± {n}" => "Leistung um ({} ± {}) % höher";
    "Power down {n} % ± {n}" => "Leistung um ({} ± {}) % niedriger";
    "Power change not detectable ({n} % ± {n})" => "Leistungsänderung nicht nachweisbar: ({} ± {}) %";
    "no recorded channel with a detectable change" => "keine aufgezeichnete Größe mit nachweisbarer Änderung";
    "{p} up {n} ± {n}" => "{} um {} ± {} höher";
    "{p} down {n} ± {n}" => "{} um {} ± {} niedriger";
    "{p} up {n} {u} ± {n}" => "{1} um ({2} ± {4}) {3} höher";
    "{p} down {n} {u} ± {n}" => "{1} um ({2} ± {4}) {3} niedriger";
    // remarks on a comparison
    "the states were driven one after the other; alternating them (A B B A) keeps heat soak and weather from passing for a change"
        => "Die Zustände wurden nacheinander gefahren; im Wechsel (A B B A) gefahren, könnten Aufheizung und Wetter keine Änderung vortäuschen";
    "heat soak differs between the states by {n} % in power; it is taken out of the comparison"
        => "Die Aufheizung wirkt in den Zuständen um {} % verschieden auf die Leistung; das ist im Vergleich herausgerechnet";
    "the engine is pressure-charged and the job does not say whether its control compensates for the ambient: with the factor it gains {n} %, with factor 1 in both states {n} %. Set ambient_compensated = true where it does"
        => "Der Motor ist aufgeladen, und der Auftrag sagt nicht, ob die Regelung die Umgebung ausgleicht: mit Korrekturfaktor {} %, mit Faktor 1 in beiden Zuständen {} %. Gleicht sie aus, ist ambient_compensated = true zu setzen";
    "the air differs between the states by {n} K and {n} hPa; the comparison leans on the correction factor"
        => "Die Luft unterscheidet sich zwischen den Zuständen um {} K und {} hPa; der Vergleich stützt sich auf den Korrekturfaktor";
    "the gain at {n} 1/min is left out: next to no power was measured there, and it is not known to within a factor of twenty"
        => "Der Gewinn bei {} 1/min ist weggelassen: Dort wurde fast keine Leistung gemessen, und er ist nicht auf den Faktor zwanzig genau bekannt";
    "the gain at {n} to {n} 1/min is left out: next to no power was measured there, and it is not known to within a factor of twenty"
        => "Der Gewinn bei {} bis {} 1/min ist weggelassen: Dort wurde fast keine Leistung gemessen, und er ist nicht auf den Faktor zwanzig genau bekannt";
    // heat soak
    "power changes by {n} % a pull ({n} to {n} %)" => "Die Leistung ändert sich um {} % je Lauf ({} bis {} %)";
    "no trend over the pulls can be told from scatter ({n} to {n} % a pull)"
        => "Ein Trend über die Läufe ist von der Streuung nicht zu unterscheiden ({} bis {} % je Lauf)";
    "heat left by earlier pulls raises the charge by {n} K at the last pull, worth {n} %"
        => "die Wärme früherer Läufe hebt die Ladeluft beim letzten Lauf um {} K, das entspricht {} %";
    // budget: sources
    "pull-to-pull level" => "Leistungsniveau von Lauf zu Lauf";
    "noise of the curve's shape" => "Rauschen der Kurvenform";
    "smoothing of the curve" => "Glättung der Kurve";
    "roller inertia" => "Trägheitsmoment der Rollen";
    "force calibration" => "Kalibrierung der Kraftmessung";
    "delay of the force channel" => "Verzug des Kraftkanals";
    "roller radius" => "Rollenhalbmesser";
    "engine inertia" => "Trägheitsmoment des Motors";
    "tyre radius" => "Reifenhalbmesser";
    "load share of the gearbox" => "Lastabhängiger Getriebeverlust";
    "drag beyond the coast-down, slope" => "Schleppverlust außerhalb des Ausrollbereichs, Steigung";
    "drag beyond the coast-down, curvature" => "Schleppverlust außerhalb des Ausrollbereichs, Krümmung";
    "loss model" => "Verlustmodell";
    "loss model, along the speed" => "Verlustmodell, längs der Geschwindigkeit";
    "tyre slip" => "Reifenschlupf";
    "barometer" => "Barometer";
    "intake thermometer" => "Ansaugluftthermometer";
    "humidity" => "Luftfeuchte";
    // budget: inputs
    "{n} % a pull, {n} pulls, {n} degrees of freedom" => "{} % je Lauf, {} {2:Lauf|Läufe}, {} Freiheitsgrade";
    "{n} % a pull, {n} pulls, {n} degrees of freedom, assumed" => "{} % je Lauf, {} {2:Lauf|Läufe}, {} Freiheitsgrade, angenommen";
    "{n} % a pull" => "{} % je Lauf";
    "posterior bias of the spline" => "A-posteriori-Verzerrung des Splines";
    "{n} ms, from the pulls" => "{} ms, aus den Läufen";
    "{n} ms, assumed" => "{} ms, angenommen";
    "what the samples leave to a wide prior" => "was die Messwerte einer weiten Vorannahme überlassen";
    "its own interval" => "sein eigener Bereich";
    "as much as its level, from the middle to either end" => "von der Mitte zu jedem Ende so viel wie seine Höhe";
    "estimated from engine and roller speed" => "aus Motor- und Rollendrehzahl geschätzt";
    "assumed" => "angenommen";
    "{n} %" => "{} %";
    "{n} hPa" => "{} hPa";
    "{n} K" => "{} K";
    // budget: remedies
    "drive more pulls under like conditions" => "mehr Läufe unter gleichen Bedingungen fahren";
    "log faster, drive longer pulls or more of them" => "schneller aufzeichnen, längere oder mehr Läufe fahren";
    "log faster or drive longer pulls" => "schneller aufzeichnen oder längere Läufe fahren";
    "calibrate the inertia with a known force" => "Trägheitsmoment mit bekannter Kraft kalibrieren";
    "calibrate with certified weights" => "mit geeichten Gewichten kalibrieren";
    "hold the car at full load for a second before the ramp" => "vor dem Hochlauf eine Sekunde unter Volllast halten";
    "measure the circumference with a tape" => "Umfang mit dem Bandmaß messen";
    "declare a weighed flywheel, or compare two ramp rates"
        => "gewogenes Schwungrad angeben oder zwei Hochlaufraten vergleichen";
    "measure the loaded radius on the roller" => "Halbmesser unter Last auf der Rolle messen";
    "use a value for this gearbox" => "Wert für dieses Getriebe verwenden";
    "let the car coast down further" => "weiter ausrollen lassen";
    "record a coast-down after each pull" => "nach jedem Lauf einen Ausrollversuch aufzeichnen";
    "record engine speed" => "Motordrehzahl aufzeichnen";
    "compare the barometer with the nearest weather station, reduced to the height of the rig"
        => "Barometer mit der nächsten Wetterstation vergleichen, auf die Höhe des Prüfstands umgerechnet";
    "measure at the intake, shielded from radiation, at several points"
        => "an der Ansaugung messen, gegen Strahlung geschirmt, an mehreren Stellen";
    "use a calibrated hygrometer" => "kalibriertes Hygrometer verwenden";
    // coast-down of a pull
    "{n} to {n} km/h in {n} s, {n} samples, residual {n} km/h"
        => "{} bis {} km/h in {} s, {} Messwerte, Reststreuung {} km/h";
    "none: {p}" => "keiner: {}";
    "none follows the pull" => "dem Lauf folgt keiner";
    "the recording ends with the pull" => "die Aufzeichnung endet mit dem Lauf";
    "the clutch stays closed, so the engine's own drag would be in it"
        => "die Kupplung bleibt geschlossen, das Schleppmoment des Motors wäre enthalten";
    "it is shorter than a second" => "er dauert keine Sekunde";
    "its samples do not determine a drag" => "seine Messwerte bestimmen keinen Schleppverlust";
    "its torque readings do not determine a drag" => "seine Drehmomentwerte bestimmen keinen Schleppverlust";
    // remarks on a pull
    "{} pull {n}" => "{} Lauf {}";
    "no coast-down of its own: {p}" => "Kein eigener Ausrollversuch: {}";
    "the coast-down lasts only {n} s ({n} to {n} km/h): the loss below that speed is extrapolated and its interval wider"
        => "Der Ausrollversuch dauert nur {} s ({} bis {} km/h): darunter ist der Verlust extrapoliert und sein Vertrauensbereich breiter";
    "outlying: {n} % from its state after soak, {n} times the scatter of the others; it is kept. Look for slip, a lifted throttle, another gear, or leave it out with skip = \"reason\""
        => "Ausreißer: {} % von seinem Zustand entfernt (ohne Aufheizung), das {}-Fache der Streuung der übrigen; er bleibt in der Auswertung. Auf Schlupf, Gaswegnahme oder anderen Gang prüfen oder mit skip = \"Grund\" auslassen";
    "speed noise is correlated from sample to sample (about {n}); the interval allows for it"
        => "Das Geschwindigkeitsrauschen ist von Messwert zu Messwert korreliert (etwa {}); der Vertrauensbereich berücksichtigt es";
    "the speed stands still from {n} s to {n} s and then jumps by {n} km/h: those readings are left out"
        => "Die Geschwindigkeit steht von {} s bis {} s still und springt dann um {} km/h: diese Messwerte sind ausgelassen";
    "the {p} stands still from {n} s to {n} s while the car's speed changes: those readings are left out"
        => "{}: steht von {} s bis {} s still, während sich die Geschwindigkeit ändert; diese Messwerte sind ausgelassen";
    "force or torque" => "Kraft oder Drehmoment";
    "the force reads {n} N in the coast-down, which is more than a zero error: the brake counts as on there"
        => "Die Kraftmessung zeigt im Ausrollversuch {} N, mehr als einen Nullpunktfehler: die Bremse gilt dort als eingeschaltet";
    "the force reads {n} N with the brake released ({n} N a minute): {n} N is taken off in the pull"
        => "Die Kraftmessung zeigt bei gelöster Bremse {} N ({} N je Minute): im Lauf werden {} N abgezogen";
    // notices of a job
    "{} is left out by the job: {}" => "{} ist im Auftrag ausgelassen: {}";
    "the delay of the force channel does not show in the pulls: {n} ms ± {n} ms is assumed (common practice, no source). Hold the car at full load for a second before the ramp, and it shows."
        => "Der Verzug des Kraftkanals zeigt sich in den Läufen nicht: angenommen sind {} ms ± {} ms (übliche Praxis, keine Quelle). Wird vor dem Hochlauf eine Sekunde unter Volllast gehalten, zeigt er sich.";
    "no log holds a usable coast-down: the loss is taken from a prior band, and the crank figures carry its wide interval. Record the coast-down after each pull with the clutch open."
        => "Keine Aufzeichnung enthält einen brauchbaren Ausrollversuch: der Verlust stammt aus einem Erfahrungsband, und die Werte an der Kurbelwelle tragen dessen weiten Bereich. Nach jedem Lauf einen Ausrollversuch mit offener Kupplung aufzeichnen.";
    "{}: no coast-down of its own ({p}); the mean drag of the other pulls is used"
        => "{}: kein eigener Ausrollversuch ({}); verwendet ist der mittlere Schleppverlust der übrigen Läufe";
    "engine speed is not recorded: it follows from roller speed, the job's ratio and tyre radius, and a slip assumed from common practice"
        => "Die Motordrehzahl ist nicht aufgezeichnet: sie folgt aus Rollengeschwindigkeit, Übersetzung und Reifenhalbmesser des Auftrags und einem nach üblicher Praxis angenommenen Schlupf";
    "roller and engine speed say {n} % against tyre radius and ratio of the job; the recordings are believed"
        => "Rollen- und Motordrehzahl weichen um {} % von Reifenhalbmesser und Übersetzung des Auftrags ab; maßgebend sind die Aufzeichnungen";
    "start times are missing: the pulls are taken as driven in the order listed, 7 min apart, each state on its own day"
        => "Startzeiten fehlen: die Läufe gelten als in der genannten Reihenfolge gefahren, im Abstand von 7 min, jeder Zustand an einem eigenen Tag";
    "no state has a repeat: a pull-to-pull standard deviation of 1 % is assumed (common practice, no source). Three or more pulls a state let the tool measure it."
        => "Kein Zustand hat eine Wiederholmessung: angenommen ist eine Standardabweichung von 1 % von Lauf zu Lauf (übliche Praxis, keine Quelle). Ab drei Läufen je Zustand wird sie gemessen.";
    "{}: the recorded intake temperature is {n} K from the air temperature of the job, which the factor uses; the standards mean the air that enters the intake system"
        => "{}: die aufgezeichnete Ansauglufttemperatur weicht um {} K von der Lufttemperatur des Auftrags ab, mit der der Faktor gerechnet ist; die Normen meinen die Luft am Eintritt der Ansaugung";
    "{}: the recorded intake temperature is {n} to {n} K from the air temperature of the job, which the factor uses; the standards mean the air that enters the intake system"
        => "{}: die aufgezeichnete Ansauglufttemperatur weicht um {} bis {} K von der Lufttemperatur des Auftrags ab, mit der der Faktor gerechnet ist; die Normen meinen die Luft am Eintritt der Ansaugung";
    "the recorded intake temperature is {n} K from the air temperature of the job, which the factor uses; the standards mean the air that enters the intake system"
        => "die aufgezeichnete Ansauglufttemperatur weicht um {} K von der Lufttemperatur des Auftrags ab, mit der der Faktor gerechnet ist; die Normen meinen die Luft am Eintritt der Ansaugung";
    "the recorded intake temperature is {n} to {n} K from the air temperature of the job, which the factor uses; the standards mean the air that enters the intake system"
        => "die aufgezeichnete Ansauglufttemperatur weicht um {} bis {} K von der Lufttemperatur des Auftrags ab, mit der der Faktor gerechnet ist; die Normen meinen die Luft am Eintritt der Ansaugung";
    "{}: the rig takes no power in at {n} 1/min; what it reads there is left out"
        => "{}: bei {} 1/min nimmt der Prüfstand keine Leistung auf; seine Werte dort sind ausgelassen";
    "{}: the rig takes no power in at {n} to {n} 1/min; what it reads there is left out"
        => "{}: bei {} bis {} 1/min nimmt der Prüfstand keine Leistung auf; seine Werte dort sind ausgelassen";
    "vehicle.wheel_inertia: assumed 1 kg·m² a wheel (the job states none)"
        => "vehicle.wheel_inertia: angenommen 1 kg·m² je Rad (der Auftrag nennt keines)";
    "{}: standard uncertainty assumed {p} (the job states none)"
        => "{}: Standardunsicherheit mit {} angenommen (der Auftrag nennt keine)";
    // repairs of a recording
    "column \"{}\": {p}" => "Spalte „{}“: {}";
    "comment line skipped" => "Kommentarzeile übergangen";
    "repeated header skipped" => "wiederholte Kopfzeile übergangen";
    "line of text inside the data skipped" => "Textzeile in den Daten übergangen";
    "row with too few cells dropped" => "Zeile mit zu wenigen Feldern verworfen";
    "row with too many cells dropped" => "Zeile mit zu vielen Feldern verworfen";
    "last line breaks off, dropped" => "letzte Zeile bricht ab, verworfen";
    "row without a readable time stamp dropped" => "Zeile ohne lesbaren Zeitstempel verworfen";
    "row with a repeated time stamp dropped (the first one kept)"
        => "Zeile mit wiederholtem Zeitstempel verworfen (die erste bleibt)";
    "row out of order in time dropped" => "Zeile außerhalb der Zeitfolge verworfen";
    "row with a leaping time stamp dropped" => "Zeile mit springendem Zeitstempel verworfen";
    "newest row first, rows turned round" => "neueste Zeile zuerst, Reihenfolge umgekehrt";
    "clock passed midnight, 24 h added" => "Uhr lief über Mitternacht, 24 h addiert";
    "clock started again, rows moved behind the earlier ones" => "Uhr neu gestartet, Zeilen hinter die früheren gesetzt";
    "gap in time, left open" => "Zeitlücke, offen gelassen";
    "uneven time between rows, left as it is" => "ungleiche Zeitabstände, unverändert gelassen";
    "empty cell, read as missing" => "leeres Feld, gilt als fehlend";
    "cell without a finite value, read as missing" => "Feld ohne endlichen Wert, gilt als fehlend";
    "cell that is not a number, read as missing" => "Feld ist keine Zahl, gilt als fehlend";
    "physically impossible value, set to missing" => "physikalisch unmöglicher Wert, gilt als fehlend";
    "spike, set to missing" => "Ausreißerspitze, gilt als fehlend";
    "channel stands still while a speed changes, left as it is"
        => "Kanal steht, während sich eine Geschwindigkeit ändert; unverändert gelassen";
    "channel never changes, left as it is" => "Kanal ändert sich nie, unverändert gelassen";
    "unit of the job file used instead of the log's" => "Einheit der Auftragsdatei statt der Aufzeichnung verwendet";
    "no header, columns called by number" => "keine Kopfzeile, Spalten mit Nummern benannt";
};
