//! German for a vetted claim: its statement, the checks, their numbers and what each needs.

use crate::text::{Phrases, phrases};

pub(crate) const PHRASES: Phrases = phrases! {
    "Contradicted by {n} of {n} checks ({}): at least one number of the claim is wrong or stands on another basis than stated; which one, the checks do not say."
        => "Widerlegt durch {} von {} {2:Prüfung|Prüfungen} ({}): mindestens eine Zahl der Angabe ist falsch oder steht auf einer anderen Grundlage als genannt; welche, sagen die Prüfungen nicht.";
    "Cannot tell: the claim gives no check anything to work with." => "Nicht entscheidbar: die Angabe gibt keiner Prüfung etwas an die Hand.";
    "Cannot tell: none of {n} checks decides." => "Nicht entscheidbar: keine von {} {1:Prüfung|Prüfungen} entscheidet.";
    "Not contradicted: {n} of {n} checks are consistent with the claim ({}). That is no proof of the figure, only that these numbers fit together."
        => "Nicht widerlegt: {} von {} {2:Prüfung|Prüfungen} {1:ist|sind} mit der Angabe verträglich ({}). Das beweist die Zahl nicht, nur dass diese Werte zusammenpassen.";
    "Not contradicted: {n} of {n} checks are consistent with the claim ({}); {n} cannot tell ({}). That is no proof of the figure, only that these numbers fit together."
        => "Nicht widerlegt: {} von {} {2:Prüfung|Prüfungen} {1:ist|sind} mit der Angabe verträglich ({}); {} {4:ist|sind} nicht entscheidbar ({}). Das beweist die Zahl nicht, nur dass diese Werte zusammenpassen.";
    "the bound is own judgement, so this asks for evidence and contradicts nothing"
        => "die Schranke ist eigenes Urteil; das verlangt einen Nachweis und widerlegt nichts";
    // what is checked
    "which horsepower" => "Welche Pferdestärke";
    "what the figure is worth as observed at the crankshaft" => "Was die Angabe unkorrigiert an der Kurbelwelle wert ist";
    "share of crank power lost on the way to the wheels" => "Anteil der Motorleistung, der bis zu den Rädern verloren geht";
    "stated gain against the difference of the powers" => "Angegebener Zuwachs gegen den Unterschied der Leistungen";
    "gain against the smallest that repeated pulls can show" => "Zuwachs gegen den kleinsten, den Wiederholmessungen zeigen können";
    "octane of the fuel against the octane the engine is said to need" => "Oktanzahl des Kraftstoffs gegen den genannten Oktanbedarf";
    "torque needed at the speed of peak power against peak torque"
        => "Bei Höchstleistung nötiges Drehmoment gegen das höchste Drehmoment";
    "power at the {p} of peak torque against peak power" => "Leistung am {} des höchsten Drehmoments gegen die Höchstleistung";
    "start" => "Beginn";
    "end" => "Ende";
    "the curve against the peaks claimed" => "Kurve gegen die angegebenen Höchstwerte";
    "mean effective pressure at peak torque" => "Effektiver Mitteldruck bei höchstem Drehmoment";
    "mean effective pressure at peak power" => "Effektiver Mitteldruck bei Höchstleistung";
    "power over displacement" => "Hubraumleistung";
    "mean piston speed at peak power" => "Mittlere Kolbengeschwindigkeit bei Höchstleistung";
    "power that the fuel flow carries at the stated consumption" => "Leistung, die der Kraftstoffstrom beim genannten Verbrauch trägt";
    "specific consumption that flow and power imply" => "Spezifischer Verbrauch aus Kraftstoffstrom und Leistung";
    "power that the air flow carries at the stated mixture and consumption"
        => "Leistung, die der Luftmassenstrom bei genanntem Gemisch und Verbrauch trägt";
    "air that the power needs against the flow of the compressor" => "Luftbedarf der Leistung gegen den Durchsatz des Verdichters";
    "share of time that the injectors must be open" => "Zeitanteil, den die Einspritzventile offen sein müssen";
    "filling of the cylinders, on the state in the manifold, that the power needs"
        => "Liefergrad, auf den Saugrohrzustand bezogen, den die Leistung braucht";
    "time {n}: {}" => "Zeit {}: {}";
    // where the claim lies
    "\"{}\" was read as mechanical horsepower; brochures also print metric horsepower as hp, which is {n} % less"
        => "„{}“ wurde als mechanische Pferdestärke gelesen; Prospekte drucken auch die metrische als hp, die {} % kleiner ist";
    "site and standard are stated; over the air that the standard permits the same engine shows {n} to {n} kW at the crankshaft"
        => "Bezugsort und Norm sind genannt; in der Luft, die die Norm zulässt, zeigt derselbe Motor {} bis {} kW an der Kurbelwelle";
    "{p} not stated: the same words can mean {n} to {n} kW observed at the crankshaft"
        => "{} nicht genannt: dieselbe Angabe kann {} bis {} kW unkorrigiert an der Kurbelwelle bedeuten";
    "site" => "Bezugsort";
    "standard" => "Norm";
    "site and standard" => "Bezugsort und Norm";
    "more power at the wheels than at the crankshaft" => "mehr Leistung an den Rädern als an der Kurbelwelle";
    "band of the loss model {}" => "Band des Verlustmodells {}";
    "{n} % of stock power apart" => "{} % der Serienleistung auseinander";
    "a gain of this size can be told from the scatter of repeated pulls"
        => "ein Zuwachs dieser Größe ist von der Streuung wiederholter Läufe zu unterscheiden";
    "a gain of this size cannot be told from the scatter of repeated pulls"
        => "ein Zuwachs dieser Größe ist von der Streuung wiederholter Läufe nicht zu unterscheiden";
    "{n} octane numbers to spare; a calculated margin never replaces a knock measurement"
        => "{} Oktanzahlen Reserve; ein gerechneter Abstand ersetzt keine Klopfmessung";
    "{n} octane numbers short: the power needs a measurement on this very fuel"
        => "{} Oktanzahlen fehlen: die Leistung verlangt eine Messung mit genau diesem Kraftstoff";
    "{n} % of the peak torque; rounding of the digits given allows {n} %"
        => "{} % des höchsten Drehmoments; die Rundung der angegebenen Stellen lässt {} % zu";
    "{n} % of the peak power" => "{} % der Höchstleistung";
    "{n} % of the peak claimed" => "{} % des angegebenen Höchstwerts";
    "{n} % above the highest range known" => "{} % über dem höchsten bekannten Bereich";
    "below the published ranges: unusual, nothing forbids it" => "unter den veröffentlichten Bereichen: ungewöhnlich, aber nichts verbietet es";
    "inside the published ranges" => "in den veröffentlichten Bereichen";
    "the claim is {n} % from it" => "die Angabe weicht davon um {} % ab";
    "against the best and the richest engines of the handbooks" => "gegen die sparsamsten und die fettesten Motoren der Handbücher";
    "usual need is {n} %, least need {n} % of the compressor"
        => "üblicher Bedarf {} %, kleinster {} % des Verdichterdurchsatzes";
    "usual {n} %, least {n} % open; above 80 to 90 % is commonly called the limit"
        => "üblich {} %, mindestens {} % offen; über 80 bis 90 % gilt gemeinhin als Grenze";
    "usual {n}, least {n}; road engines 0.80 to 0.95, tuned up to 1.15"
        => "üblich {}, mindestens {}; Straßenmotoren 0,80 bis 0,95, getunte bis 1,15";
    "predicted {n} s, claimed {n} s: that time needs {n} % of the claimed power"
        => "vorhergesagt {} s, angegeben {} s: diese Zeit verlangt {} % gegenüber der angegebenen Leistung";
    "predicted {n} s, claimed {n} s: that time needs {n} % of the claimed power, if it were there at every speed"
        => "vorhergesagt {} s, angegeben {} s: diese Zeit verlangt {} % gegenüber der angegebenen Leistung, wäre sie bei jeder Geschwindigkeit da";
    "predicted {n} s, claimed {n} s: no power gives that time with these tyres and shifts"
        => "vorhergesagt {} s, angegeben {} s: mit diesen Reifen und Schaltvorgängen ergibt keine Leistung diese Zeit";
    // numbers of a check
    "power as mechanical horsepower" => "Leistung als mechanische Pferdestärke";
    "the same number as metric horsepower" => "Dieselbe Zahl als metrische Pferdestärke";
    "power as claimed" => "Leistung laut Angabe";
    "crank power" => "Motorleistung";
    "wheel power" => "Leistung am Rad";
    "stock power" => "Serienleistung";
    "gain from the two powers" => "Zuwachs aus beiden Leistungen";
    "gain" => "Zuwachs";
    "repeatability" => "Wiederholpräzision";
    "repeats of each state" => "Wiederholungen je Zustand";
    "required" => "Oktanbedarf";
    "power" => "Leistung";
    "speed of peak power" => "Drehzahl der Höchstleistung";
    "peak torque" => "Höchstes Drehmoment";
    "speed of peak torque" => "Drehzahl des höchsten Drehmoments";
    "engine speed of the highest point" => "Drehzahl des höchsten Punkts";
    "stroke" => "Hub";
    "specific consumption" => "Spezifischer Verbrauch";
    "standard uncertainty" => "Standardunsicherheit";
    "air flow" => "Luftmassenstrom";
    "stoichiometric ratio" => "Stöchiometrisches Luftverhältnis";
    "compressor flow" => "Verdichterdurchsatz";
    "least air: 230 g/kWh at lambda 1" => "Mindestluft: 230 g/kWh bei Lambda 1";
    "usual air: 300 g/kWh at lambda 0.86" => "Übliche Luft: 300 g/kWh bei Lambda 0,86";
    "injectors" => "Einspritzventile";
    "rated flow" => "Nenndurchsatz";
    "pressure drop" => "Druckdifferenz";
    "fuel density" => "Kraftstoffdichte";
    "least: at 230 g/kWh" => "Mindestens: bei 230 g/kWh";
    "usual: at 300 g/kWh" => "Üblich: bei 300 g/kWh";
    "manifold pressure, absolute" => "Saugrohrdruck, absolut";
    "least filling" => "Kleinster Liefergrad";
    "mass" => "Masse";
    "drag area" => "Luftwiderstandsfläche";
    "rolling coefficient" => "Rollwiderstandsbeiwert";
    "mass factor" => "Massenfaktor";
    "air density" => "Luftdichte";
    "shift time" => "Schaltzeit";
    "tyre friction" => "Reibwert der Reifen";
    "standard uncertainty of the comparison" => "Standardunsicherheit des Vergleichs";
    // what a check without input needs
    "engine.power at the crankshaft and engine.wheel_power" => "engine.power an der Kurbelwelle und engine.wheel_power";
    "engine.power stated at the crankshaft" => "engine.power, an der Kurbelwelle angegeben";
    "a loss model that needs no evidence in the catalogue" => "ein Verlustmodell im Katalog, das keine Messwerte braucht";
    "car.driveline_efficiency, or a loss model that needs no evidence in the catalogue"
        => "car.driveline_efficiency oder ein Verlustmodell im Katalog, das keine Messwerte braucht";
    "stock.power, and engine.power or stock.gain" => "stock.power und dazu engine.power oder stock.gain";
    "fuel.grade and fuel.required_ron" => "fuel.grade und fuel.required_ron";
    "a knock model that works from a stated requirement in the catalogue, and a fuel with known octane"
        => "ein Klopfmodell im Katalog, das vom genannten Oktanbedarf ausgeht, und ein Kraftstoff mit bekannter Oktanzahl";
    "engine.power" => "engine.power";
    "engine.power, engine.power_speed and engine.torque" => "engine.power, engine.power_speed und engine.torque";
    "engine.displacement and engine.charging" => "engine.displacement und engine.charging";
    "engine.stroke and engine.power_speed" => "engine.stroke und engine.power_speed";
    "a figure at the crankshaft: the power here is stated elsewhere" => "eine Angabe an der Kurbelwelle: die Leistung hier ist anderswo angegeben";
    "spark ignition: its bounds are those of a spark-ignition engine" => "Fremdzündung: die Schranken sind die eines Ottomotors";
    "fuel.flow, and fuel.consumption for a sharp answer" => "fuel.flow, und für eine scharfe Antwort fuel.consumption";
    "fuel.air_flow, fuel.lambda and fuel.consumption" => "fuel.air_flow, fuel.lambda und fuel.consumption";
    "parts.compressor_flow (the most the map shows)" => "parts.compressor_flow (das Höchste, was das Kennfeld zeigt)";
    "parts.injectors and parts.injector_flow" => "parts.injectors und parts.injector_flow";
    "parts.manifold_pressure (absolute), engine.displacement and engine.power_speed"
        => "parts.manifold_pressure (absolut), engine.displacement und engine.power_speed";
    "a [[time]] with from, to (or distance) and time" => "ein [[time]] mit from, to (oder distance) und time";
    "car.mass, as driven" => "car.mass, fahrbereit";
};
