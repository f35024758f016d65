//! German for remarks and refusals that come with a factor: the frame of each, and the remarks of the standards that
//! appear in most reports. What else a card says stays English.

use crate::text::{Phrases, phrases};

pub(crate) const PHRASES: Phrases = phrases! {
    // a citation with its grade before one without, which would take the grade for a part of it
    "outside the standard's range: {p} is {p}, outside {n} to {p} ({e}; from memory, believed right); quote it only with the test conditions"
        => "außerhalb des Bereichs der Norm: {} ist {}, zulässig {} bis {} ({}; aus dem Gedächtnis, für richtig gehalten); nur mit den Prüfbedingungen angeben";
    "outside the standard's range: {p} is {p}, outside {n} to {p} ({e}; from memory, doubtful); quote it only with the test conditions"
        => "außerhalb des Bereichs der Norm: {} ist {}, zulässig {} bis {} ({}; aus dem Gedächtnis, unsicher); nur mit den Prüfbedingungen angeben";
    "outside the standard's range: {p} is {p}, outside {n} to {p} ({e}); quote it only with the test conditions"
        => "außerhalb des Bereichs der Norm: {} ist {}, zulässig {} bis {} ({}); nur mit den Prüfbedingungen angeben";
    // of some pulls, named before it
    "{}: outside the standard's range: {p} is {p}, outside {n} to {p} ({e}; from memory, believed right); quote it only with the test conditions"
        => "{}: außerhalb des Bereichs der Norm: {} ist {}, zulässig {} bis {} ({}; aus dem Gedächtnis, für richtig gehalten); nur mit den Prüfbedingungen angeben";
    "{}: outside the standard's range: {p} is {p}, outside {n} to {p} ({e}; from memory, doubtful); quote it only with the test conditions"
        => "{}: außerhalb des Bereichs der Norm: {} ist {}, zulässig {} bis {} ({}; aus dem Gedächtnis, unsicher); nur mit den Prüfbedingungen angeben";
    "{}: outside the standard's range: {p} is {p}, outside {n} to {p} ({e}); quote it only with the test conditions"
        => "{}: außerhalb des Bereichs der Norm: {} ist {}, zulässig {} bis {} ({}); nur mit den Prüfbedingungen angeben";
    "{p} is {p}, outside {n} to {p} ({e})" => "{} ist {}, zulässig {} bis {} ({})";
    "{n} kPa" => "{} kPa";
    "{n} to {n}" => "{} bis {}";
    "{n} to {n} kPa" => "{} bis {} kPa";
    "{n} to {n} °C" => "{} bis {} °C";
    "{n} to {n} mg/(l·cycle)" => "{} bis {} mg/(l·Arbeitsspiel)";
    "{n} °C" => "{} °C";
    "{n} mg/(l·cycle)" => "{} mg/(l·Arbeitsspiel)";
    "dry pressure" => "Druck der trockenen Luft";
    "total pressure" => "Gesamtdruck";
    "station pressure" => "Luftdruck";
    "correction" => "Korrektur";
    "factor 1 by ambient compensation ({e}); the formula alone would claim {n}"
        => "Faktor 1 wegen Ausgleichs der Umgebung ({}); die Formel allein ergäbe {}";
    "factor 1 by ambient compensation ({e}); the formula alone would claim {n} to {n}"
        => "Faktor 1 wegen Ausgleichs der Umgebung ({}); die Formel allein ergäbe {} bis {}";
    "{p} assumed {n} ({e})" => "{} mit {} angenommen ({})";
    "{p} assumed {n} {} ({e})" => "{} mit {} {} angenommen ({})";
    "{p} rests on {e}, from memory, believed right" => "{}: nach {}, aus dem Gedächtnis, für richtig gehalten";
    "{p} rests on {e}, from memory, doubtful" => "{}: nach {}, aus dem Gedächtnis, unsicher";
    "extrapolated: {p} ({e})" => "extrapoliert: {} ({})";
    "convention: {p}" => "Vereinbarung: {}";
    "does not apply: {p} ({e})" => "nicht anwendbar: {} ({})";
    "{p} ({e})" => "{} ({})";
    "a {p} figure cannot become a {p} figure without a model of the accessories"
        => "Angabe {} lässt sich ohne Modell der Nebenaggregate nicht in {} umrechnen";
    "the text does not cover spark ignition" => "die Norm gilt nicht für Fremdzündung";
    "the text does not cover compression ignition" => "die Norm gilt nicht für Selbstzündung";
    "the text does not cover pressure-charged engines" => "die Norm gilt nicht für aufgeladene Motoren";
    "the text has no rule for an engine that compensates for the ambient; its formula over-corrects such an engine"
        => "die Norm hat keine Regel für Motoren, die die Umgebung ausgleichen; ihre Formel überkorrigiert sie";
    "the treatment of boosted spark-ignition engines was not found; the formula for aspirated ones is used"
        => "die Regel für aufgeladene Ottomotoren wurde nicht gefunden; verwendet ist die Formel für Saugmotoren";
    "no clause on charged engines is known; the formula for aspirated ones is used"
        => "ein Abschnitt für aufgeladene Motoren ist nicht bekannt; verwendet ist die Formel für Saugmotoren";
    "a code for small aspirated engines on a charged one, as the trade does under the name STD"
        => "eine Norm für kleine Saugmotoren auf einen aufgeladenen angewandt, wie es im Gewerbe unter dem Namen STD geschieht";
    "no case of this text is known for this kind of charging and ignition"
        => "für diese Art von Aufladung und Zündung ist kein Fall dieser Norm bekannt";
    "this case is for turbocharged and charge-cooled engines; iso-3046-f is for aspirated ones"
        => "dieser Fall gilt für Motoren mit Abgasturbolader und Ladeluftkühlung; iso-3046-f gilt für Saugmotoren";
    "the factor of this text for compression ignition is not known here"
        => "der Faktor dieser Norm für Selbstzündung ist hier nicht bekannt";
    "the formula for compression ignition is not known here"
        => "die Formel für Selbstzündung ist hier nicht bekannt";
    "the compression-ignition exponents of this edition are not known here; iso-1585 has those of 1992"
        => "die Exponenten dieser Ausgabe für Selbstzündung sind hier nicht bekannt; iso-1585 hat die von 1992";
    "the treatment of mechanically supercharged compression ignition is not known"
        => "die Regel für mechanisch aufgeladene Selbstzündung ist nicht bekannt";
    "one α_a for every kind of charging" => "ein α_a für jede Art der Aufladung";
    "one formula for every kind of charging" => "eine Formel für jede Art der Aufladung";
    "engine factor f_m" => "Motorfaktor f_m";
    "range of α1" => "Bereich von α1";
    "range of K" => "Bereich von K";
    "exponents of α_a" => "Exponenten von α_a";
    "exponents of f_a" => "Exponenten von f_a";
    "test ranges and range of the factor" => "Prüfbereiche und Bereich des Faktors";
    "test ranges and range of α_a" => "Prüfbereiche und Bereich von α_a";
    "rule for ambient-compensated engines" => "Regel für Motoren, die die Umgebung ausgleichen";
    "mechanical efficiency" => "mechanischer Wirkungsgrad";
    "spark ignition, aspirated" => "Fremdzündung, Saugmotor";
    "pressure reduced by the vapour pressure" => "Druck um den Dampfdruck vermindert";
    "pressure not reduced by the vapour pressure" => "Druck nicht um den Dampfdruck vermindert";
    "the same K for pressure-charged engines" => "dasselbe K für aufgeladene Motoren";
    "the same K for pressure-charged spark ignition" => "dasselbe K für aufgeladene Ottomotoren";
    "the same K for compression ignition" => "dasselbe K für Selbstzündung";
    "CA = 1.18·(99/B_d)·√((t+273)/298) − 0.18, as in JUN90"
        => "CA = 1,18·(99/B_d)·√((t+273)/298) − 0,18 wie in JUN90";
    "CA = 1.18·(99/B_d)·√((t+273)/298) − 0.18" => "CA = 1,18·(99/B_d)·√((t+273)/298) − 0,18";
    "load-proportional share" => "lastabhängiger Anteil";
    "wheel over crank power" => "Radleistung durch Motorleistung";
    "driven wheels" => "angetriebene Räder";
    "the power that accelerates engine and driveline is not added: right for a steady run, low for a sweep"
        => "die Beschleunigungsleistung von Motor und Antriebsstrang ist nicht addiert: richtig im Beharrungszustand, zu wenig im Hochlauf";
    // cautions that a result brings along
    "Rolling road: strap the car to rated anchor points, guard rotating parts, keep everyone out of the line of the tyres, and use tyres fit for the speed."
        => "Rollenprüfstand: Fahrzeug an zugelassenen Punkten verzurren, drehende Teile abdecken, niemand in der Flucht der Reifen, für die Geschwindigkeit geeignete Reifen verwenden.";
    "Exhaust gas kills: extract it, ventilate the room and watch carbon monoxide. Hot exhaust and turbine parts burn."
        => "Abgas ist tödlich: absaugen, Raum lüften, Kohlenmonoxid überwachen. Heiße Auspuff- und Turbinenteile verbrennen die Haut.";
    "Fuel and its vapour ignite: keep extinguishers at hand and ignition sources away."
        => "Kraftstoff und sein Dampf entzünden sich: Feuerlöscher bereithalten, Zündquellen fernhalten.";
    "Knock can destroy an engine in seconds: measure it, and stop at the first sign. No calculated margin replaces that."
        => "Klopfen kann einen Motor in Sekunden zerstören: messen und beim ersten Anzeichen abbrechen. Kein gerechneter Abstand ersetzt das.";
    "Work to the local codes and have it done by licensed practice; road tests belong on a closed road."
        => "Örtliche Vorschriften einhalten und die Arbeit von befugten Fachleuten ausführen lassen; Straßenversuche gehören auf eine gesperrte Strecke.";
    "a calculated margin never replaces a knock measurement: verify on the engine, on the fuel it will run on, by licensed practice and local codes"
        => "ein gerechneter Abstand ersetzt keine Klopfmessung: am Motor und mit dem vorgesehenen Kraftstoff prüfen, durch befugte Fachleute und nach den örtlichen Vorschriften";
    "Road tests belong on a closed road or test track: public-road speed limits and local law apply to every run."
        => "Straßenversuche gehören auf eine gesperrte Straße oder Teststrecke: auf öffentlichen Straßen gelten bei jeder Fahrt Tempolimits und Recht.";
    "Two people, one driving and one measuring; a long flat straight with room to stop twice over; dry surface, no traffic."
        => "Zwei Personen, eine fährt, eine misst; lange ebene Gerade mit doppeltem Anhalteweg; trockene Fahrbahn, kein Verkehr.";
    "Tyres, brakes and belts rated for the top speed; stop at the first sign of heat, smell, noise or warning lamp."
        => "Reifen, Bremsen und Gurte für die Höchstgeschwindigkeit zugelassen; beim ersten Anzeichen von Hitze, Geruch, Geräusch oder Warnleuchte anhalten.";
};
