//! German for the steps of the trail, the facts of car and rig, channels, stress figures and knock margins.

use crate::text::{Phrases, phrases};

pub(crate) const PHRASES: Phrases = phrases! {
    // the basis
    "Power and torque at the crankshaft, {p}, corrected to {} ({p}); wheel to crankshaft by: {p}."
        => "Leistung und Drehmoment an der Kurbelwelle, {}, korrigiert nach {} ({}); vom Rad zur Kurbelwelle: {}.";
    "crank" => "Kurbelwelle";
    "wheel" => "Rad";
    "hub" => "Nabe";
    "net" => "netto";
    "gross" => "brutto";
    "net or gross" => "netto oder brutto";
    "{n} kPa dry ({n} kPa total), {n} °C" => "{} kPa trocken ({} kPa gesamt), {} °C";
    "{n} kPa total, {n} °C" => "{} kPa gesamt, {} °C";
    "current" => "gültig";
    "withdrawn" => "zurückgezogen";
    "withdrawn, superseded by {}" => "zurückgezogen, ersetzt durch {}";
    "historic, for reading old figures" => "historisch, zum Lesen alter Angaben";
    "not established" => "nicht festgestellt";
    "exact or derived" => "exakt oder hergeleitet";
    "read in the document" => "im Dokument gelesen";
    "corroborated by an independent publication" => "durch unabhängige Veröffentlichung bestätigt";
    "from memory, believed right" => "aus dem Gedächtnis, für richtig gehalten";
    "from memory, doubtful" => "aus dem Gedächtnis, unsicher";
    "Drag measured on a coast-down" => "Schleppverlust aus dem Ausrollversuch";
    "Torque-loss fallback for transmissions" => "Ersatzwerte für Drehmomentverluste von Getrieben";
    "Constant drag power plus a share of the load" => "Feste Schleppleistung und lastabhängiger Anteil";
    "Element efficiencies in series" => "Wirkungsgrade der Elemente in Reihe";
    "Fixed percentage of loss" => "Fester Verlustanteil";
    "Prior band of wheel over crank power" => "Erfahrungsband für Radleistung durch Motorleistung";
    "Default gearbox loss of the light-duty model" => "Standard-Getriebeverlust des Pkw-Modells";
    // facts of the car
    "Vehicle" => "Fahrzeug";
    "Engine" => "Motor";
    "Displacement" => "Hubraum";
    "Control" => "Regelung";
    "Gear used" => "Gefahrener Gang";
    "Inertia" => "Trägheitsmomente";
    "spark ignition" => "Fremdzündung";
    "compression ignition" => "Selbstzündung";
    "naturally aspirated" => "Saugmotor";
    "supercharged" => "mechanisch aufgeladen";
    "turbocharged" => "Abgasturbolader";
    "charge air cooled by air" => "Ladeluftkühlung durch Luft";
    "charge air cooled by liquid" => "Ladeluftkühlung durch Flüssigkeit";
    "{n} cm³" => "{} cm³";
    "{n} cm³, {n} cylinders" => "{} cm³, {} {2:Zylinder|Zylinder}";
    "compensates for the ambient (factor 1 where the text allows it)"
        => "gleicht die Umgebung aus (Faktor 1, wo die Norm es zulässt)";
    "not stated to compensate for the ambient" => "Ausgleich der Umgebung nicht angegeben";
    "{n} engine turns a wheel turn" => "{} Motorumdrehungen je Radumdrehung";
    "engine {n} kg·m² (± {n} % standard), gearbox {n} kg·m² at the engine, {n} driven wheels of {n} kg·m²"
        => "Motor {} kg·m² (± {} % Standardunsicherheit), Getriebe {} kg·m² auf den Motor bezogen, {} angetriebene {4:Rad|Räder} mit {} kg·m²";
    // facts of the rig
    "Rig" => "Bauart";
    "Name" => "Bezeichnung";
    "Roller" => "Rolle";
    "Force reading" => "Kraftmessung";
    "Weather station" => "Wetterstation";
    "Ratio and slip" => "Übersetzung und Schlupf";
    "inertia roller" => "Schwungrolle";
    "roller with brake and force cell" => "Rolle mit Bremse und Kraftaufnehmer";
    "brakes at the hubs with torque sensors" => "Nabenbremsen mit Drehmomentaufnehmern";
    "inertia {n} kg·m² (± {n} % standard), radius {n} mm"
        => "Trägheitsmoment {} kg·m² (± {} % Standardunsicherheit), Halbmesser {} mm";
    "± {n} % standard" => "± {} % Standardunsicherheit";
    "± {n} hPa, ± {n} K, ± {n} % humidity (standard)"
        => "± {} hPa, ± {} K, ± {} % Feuchte (Standardunsicherheit)";
    "{n} m of roller an engine turn, slip {n} % per kN (from the recordings); engine-speed channel {n} ms late"
        => "{} m Rollenweg je Motorumdrehung, Schlupf {} % je kN (aus den Aufzeichnungen); Drehzahlkanal {} ms verzögert";
    "{n} m of roller an engine turn, slip {n} % per kN (from the job, slip assumed); engine-speed channel {n} ms late"
        => "{} m Rollenweg je Motorumdrehung, Schlupf {} % je kN (aus dem Auftrag, Schlupf angenommen); Drehzahlkanal {} ms verzögert";
    // the trail
    "elementary mechanics" => "Grundgesetze der Mechanik";
    "power balance of tyre, driveline and flywheel, elementary mechanics"
        => "Leistungsbilanz von Reifen, Antriebsstrang und Schwungrad, Grundgesetze der Mechanik";
    "speed and acceleration of the roller ({} at {n} 1/min)"
        => "Geschwindigkeit und Beschleunigung der Rolle ({} bei {} 1/min)";
    "penalised quartic spline through the speed readings, smoothness by restricted maximum likelihood"
        => "penalisierter Spline vierten Grades durch die Geschwindigkeitswerte, Glättung nach restringierter Maximum-Likelihood";
    "{n} readings in the pull" => "{} Messwerte im Lauf";
    "v = {n} m/s, a = {n} m/s²" => "v = {} m/s; a = {} m/s²";
    "force at the contact" => "Kraft in der Berührstelle";
    "F = m_D·a + F_p, m_D = J/R², F_p = A + B·v + C·v²" => "F = m_D·a + F_p; m_D = J/R²; F_p = A + B·v + C·v²";
    "F = m_D·a + F_b + F_p, m_D = J/R², F_p = A + B·v + C·v²"
        => "F = m_D·a + F_b + F_p; m_D = J/R²; F_p = A + B·v + C·v²";
    "F = T/r" => "F = T/r";
    "T/r = {n} N" => "T/r = {} N";
    "J = {n} kg·m², R = {n} m, m_D = {n} kg, a = {n} m/s², A = {n} N, B = {n} N·s/m, C = {n} N·s²/m², F_p = {n} N"
        => "J = {} kg·m²; R = {} m; m_D = {} kg; a = {} m/s²; A = {} N; B = {} N·s/m; C = {} N·s²/m²; F_p = {} N";
    "J = {n} kg·m², R = {n} m, m_D = {n} kg, a = {n} m/s², F_b = {n} N, A = {n} N, B = {n} N·s/m, C = {n} N·s²/m², F_p = {n} N"
        => "J = {} kg·m²; R = {} m; m_D = {} kg; a = {} m/s²; F_b = {} N; A = {} N; B = {} N·s/m; C = {} N·s²/m²; F_p = {} N";
    "F = {n} N" => "F = {} N";
    "observed power at the measuring point" => "unkorrigierte Leistung an der Messstelle";
    "P_wheel = F·v" => "P_Rad = F·v";
    "F = {n} N, v = {n} m/s" => "F = {} N; v = {} m/s";
    "P_wheel = {n} kW" => "P_Rad = {} kW";
    "rim speed of the tyre, which slips against the roller" => "Umfangsgeschwindigkeit des Reifens, der auf der Rolle schlupft";
    "v_rim = v/(1 − κ·F)" => "v_U = v/(1 − κ·F)";
    "v = {n} m/s, κ = {n} % per kN, F = {n} N" => "v = {} m/s; κ = {} % je kN; F = {} N";
    "v_rim = {n} m/s" => "v_U = {} m/s";
    "ratio of engine speed to roller speed against contact force, least squares over all pulls"
        => "Verhältnis von Motor- zu Rollendrehzahl über der Kontaktkraft, kleinste Quadrate über alle Läufe";
    "rotating mass of the car, referred to the contact" => "drehende Massen des Fahrzeugs, bezogen auf die Berührstelle";
    "m_rot = n·J_w/r² + (J_g + J_e)/ρ²" => "m_rot = n·J_R/r² + (J_G + J_M)/ρ²";
    "n = {n}, J_w = {n} kg·m², r = {n} m, J_g = {n} kg·m², J_e = {n} kg·m², ρ = {n} m of travel a radian of the engine (from the recordings)"
        => "n = {}; J_R = {} kg·m²; r = {} m; J_G = {} kg·m²; J_M = {} kg·m²; ρ = {} m Weg je Radiant des Motors (aus den Aufzeichnungen)";
    "n = {n}, J_w = {n} kg·m², r = {n} m, J_g = {n} kg·m², J_e = {n} kg·m², ρ = {n} m of travel a radian of the engine (r over the ratio of the job)"
        => "n = {}; J_R = {} kg·m²; r = {} m; J_G = {} kg·m²; J_M = {} kg·m²; ρ = {} m Weg je Radiant des Motors (r durch die Übersetzung des Auftrags)";
    "m_rot = {n} kg" => "m_rot = {} kg";
    "acceleration of the rim, from its speeds at four moments around this point"
        => "Beschleunigung des Reifenumfangs aus seinen Geschwindigkeiten zu vier Zeitpunkten um diesen Punkt";
    "a_rim = (1 − x)·(v₃ − v₁)/Δ₁ + x·(v₄ − v₂)/Δ₂" => "a_U = (1 − x)·(v₃ − v₁)/Δ₁ + x·(v₄ − v₂)/Δ₂";
    "v₁ = {n} m/s, v₂ = {n} m/s, v₃ = {n} m/s, v₄ = {n} m/s, Δ₁ = {n} s, Δ₂ = {n} s, x = {n}"
        => "v₁ = {} m/s; v₂ = {} m/s; v₃ = {} m/s; v₄ = {} m/s; Δ₁ = {} s; Δ₂ = {} s; x = {}";
    "a_rim = {n} m/s²" => "a_U = {} m/s²";
    "power that accelerates wheels, gearbox and engine" => "Beschleunigungsleistung für Räder, Getriebe und Motor";
    "P_acc = m_rot·a_rim·v_rim" => "P_B = m_rot·a_U·v_U";
    "m_rot = {n} kg, a_rim = {n} m/s², v_rim = {n} m/s" => "m_rot = {} kg; a_U = {} m/s²; v_U = {} m/s";
    "P_acc = {n} kW" => "P_B = {} kW";
    "drag of driveline and tyres, from the coast-down" => "Schleppkraft von Antriebsstrang und Reifen aus dem Ausrollversuch";
    "F_drag = (m_D + m_open)·(k₀ + k₁·v_rim + k₂·v_rim²) − F_p, m_open = n·J_w/r² + J_g/ρ²"
        => "F_S = (m_D + m_offen)·(k₀ + k₁·v_U + k₂·v_U²) − F_p; m_offen = n·J_R/r² + J_G/ρ²";
    "F_drag = m_open·(k₀ + k₁·v_rim + k₂·v_rim²) − F_h, m_open = n·J_w/r² + J_g/ρ²"
        => "F_S = m_offen·(k₀ + k₁·v_U + k₂·v_U²) − F_N; m_offen = n·J_R/r² + J_G/ρ²";
    "m_D = {n} kg, m_open = {n} kg, k₀ = {n} m/s², k₁ = {n} 1/s, k₂ = {n} 1/m, v_rim = {n} m/s, F_p = {n} N at v_rim"
        => "m_D = {} kg; m_offen = {} kg; k₀ = {} m/s²; k₁ = {} 1/s; k₂ = {} 1/m; v_U = {} m/s; F_p = {} N bei v_U";
    "m_open = {n} kg, k₀ = {n} m/s², k₁ = {n} 1/s, k₂ = {n} 1/m, v_rim = {n} m/s, F_h = {n} N read at the hubs meanwhile"
        => "m_offen = {} kg; k₀ = {} m/s²; k₁ = {} 1/s; k₂ = {} 1/m; v_U = {} m/s; F_N = {} N dabei an den Naben gemessen";
    "F_drag = {n} N" => "F_S = {} N";
    "least squares of the integrated equation of motion over the coast-down"
        => "kleinste Quadrate der integrierten Bewegungsgleichung über den Ausrollversuch";
    "mean of the coast-downs of the other pulls" => "Mittel der Ausrollversuche der anderen Läufe";
    "crankshaft power, observed: losses are added before any factor"
        => "Motorleistung, unkorrigiert: Verluste werden vor jedem Faktor addiert";
    "P_crank = (F·v_rim + P_acc + F_drag·v_rim)/(1 − λ)" => "P_Motor = (F·v_U + P_B + F_S·v_U)/(1 − λ)";
    "F = {n} N, v_rim = {n} m/s, P_acc = {n} kW, F_drag = {n} N, load share λ = {n}"
        => "F = {} N; v_U = {} m/s; P_B = {} kW; F_S = {} N; Lastanteil λ = {}";
    "F = {n} N, v_rim = {n} m/s, P_acc = {n} kW, F_drag = {n} N, load share λ = {n} (assumed)"
        => "F = {} N; v_U = {} m/s; P_B = {} kW; F_S = {} N; Lastanteil λ = {} (angenommen)";
    "P_crank = {n} kW" => "P_Motor = {} kW";
    "power at the rim F·v_rim = {n} kW, power that accelerates rotating parts {n} kW, P_wheel = {n} kW"
        => "Leistung am Reifenumfang F·v_U = {} kW; Beschleunigungsleistung der drehenden Teile {} kW; P_Rad = {} kW";
    "correction factor" => "Korrekturfaktor";
    "total {n} kPa, vapour {n} kPa, dry {n} kPa, t = {n} °C, T = t + {n} = {n} K"
        => "gesamt {} kPa; Dampf {} kPa; trocken {} kPa; t = {} °C; T = t + {} = {} K";
    "factor = {n}" => "Faktor = {}";
    "corrected power of this pull" => "korrigierte Leistung dieses Laufs";
    "P = factor·P_crank" => "P = Faktor·P_Motor";
    "{n} × {n} kW" => "{} × {} kW";
    "P = {n} kW" => "P = {} kW";
    "curve of state \"{}\"" => "Kurve des Zustands „{}“";
    "exp(mean level + mean shape) of its pulls; level and shape scatter pooled over all states"
        => "exp(mittleres Niveau + mittlere Form) seiner Läufe; Streuung von Niveau und Form über alle Zustände zusammengefasst";
    "{n} pulls, standard deviation of a level {n} % on {n} degrees of freedom"
        => "{} {1:Lauf|Läufe}; Standardabweichung eines Niveaus {} % bei {} Freiheitsgraden";
    "peak {n} kW at {n} 1/min" => "Höchstwert {} kW bei {} 1/min";
    "JCGM 100:2008, 4.2, 5.1, G.4; Monte Carlo beside it JCGM 101:2008"
        => "JCGM 100:2008, 4.2, 5.1, G.4; daneben Monte Carlo nach JCGM 101:2008";
    "correction factor of {} for this pull" => "Korrekturfaktor nach {} für diesen Lauf";
    "peak of state \"{}\" on {}" => "Höchstwert des Zustands „{}“ nach {}";
    "P' = P·mean(factor'/factor)" => "P' = P·Mittel(Faktor'/Faktor)";
    "P = {n} kW, mean over {n} pulls: {n}, for this pull {n}/{n}"
        => "P = {1} kW; Mittel über {2} {2:Lauf|Läufe}: {3}; für diesen Lauf {4}/{5}";
    "P' = {n} kW" => "P' = {} kW";
    "mean change between the states" => "mittlere Änderung zwischen den Zuständen";
    "difference of the mean log levels at equal heat; what the rig shares cancels"
        => "Differenz der mittleren logarithmierten Niveaus bei gleicher Aufheizung; was der Prüfstand gemeinsam hat, hebt sich auf";
    "heat part taken out {n} %" => "herausgerechneter Anteil der Aufheizung {} %";
    "{n} % ({n} to {n} %), smallest detectable {n} %" => "{} % ({} bis {} %); kleinste nachweisbare {} %";
    "Student's t at 5 % two-sided; power 80 % by the non-central t"
        => "Student-t, zweiseitig 5 %; Trennschärfe 80 % nach der nichtzentralen t-Verteilung";
    // channels
    "time" => "Zeit";
    "roller surface speed" => "Rollengeschwindigkeit";
    "roller rotation" => "Rollendrehzahl";
    "road speed" => "Fahrgeschwindigkeit";
    "engine speed" => "Motordrehzahl";
    "brake force at the roller surface" => "Bremskraft am Rollenumfang";
    "hub torque" => "Nabendrehmoment";
    "hub rotation" => "Nabendrehzahl";
    "intake air temperature" => "Ansauglufttemperatur";
    "charge temperature" => "Ladelufttemperatur";
    "coolant temperature" => "Kühlmitteltemperatur";
    "oil temperature" => "Öltemperatur";
    "gearbox oil temperature" => "Getriebeöltemperatur";
    "exhaust gas temperature" => "Abgastemperatur";
    "manifold pressure" => "Saugrohrdruck";
    "pressure before the turbine" => "Druck vor Turbine";
    "exhaust back pressure" => "Abgasgegendruck";
    "compressor inlet pressure" => "Druck vor Verdichter";
    "compressor outlet pressure" => "Druck nach Verdichter";
    "compressor outlet temperature" => "Temperatur nach Verdichter";
    "fuel pressure" => "Kraftstoffdruck";
    "oil pressure" => "Öldruck";
    "fuel mass flow" => "Kraftstoffmassenstrom";
    "fuel volume flow" => "Kraftstoffvolumenstrom";
    "air mass flow" => "Luftmassenstrom";
    "lambda" => "Lambda";
    "spark advance" => "Zündwinkel";
    "knock retard" => "Spätverstellung der Klopfregelung";
    "injector duty" => "Einspritzventil-Tastgrad";
    "throttle opening" => "Drosselklappenöffnung";
    "pedal position" => "Pedalstellung";
    "gear" => "Gang";
    "ambient pressure" => "Umgebungsdruck";
    "ambient temperature" => "Umgebungstemperatur";
    "relative humidity" => "Relative Feuchte";
    "dew point" => "Taupunkt";
    "longitudinal acceleration" => "Längsbeschleunigung";
    "distance" => "Wegstrecke";
    "height" => "Höhe";
    "latitude" => "Geografische Breite";
    "longitude" => "Geografische Länge";
    "supply voltage" => "Versorgungsspannung";
    // stress figures
    "kPa absolute" => "kPa absolut";
    "pre-turbine pressure" => "Druck vor Turbine";
    "pre-turbine over manifold pressure" => "Druck vor Turbine durch Saugrohrdruck";
    "pumping mean effective pressure (loss)" => "Mitteldruck der Ladungswechselarbeit (Verlust)";
    "power spent on pumping" => "Ladungswechselleistung";
    "turbine expansion ratio" => "Turbinendruckverhältnis";
    "expansion ratio that the turbine needs at least" => "Mindestens nötiges Turbinendruckverhältnis";
    "compressor pressure ratio" => "Verdichterdruckverhältnis";
    "compressor efficiency (isentropic)" => "Verdichterwirkungsgrad (isentrop)";
    "charge-cooler effectiveness" => "Ladeluftkühler, Rückkühlgrad";
    "pressure drop compressor to manifold" => "Druckabfall vom Verdichter zum Saugrohr";
    "heat rejected by the charge cooler" => "Wärmestrom des Ladeluftkühlers";
    "power at which the charge reaches its limit" => "Leistung, bei der die Ladeluft ihre Grenze erreicht";
    "charge density" => "Ladungsdichte";
    "charge density over ambient density" => "Ladungsdichte durch Umgebungsdichte";
    "air flow by speed-density" => "Luftmassenstrom aus Drehzahl und Dichte";
    "air flow from fuel and lambda" => "Luftmassenstrom aus Kraftstoff und Lambda";
    "fuel flow" => "Kraftstoffmassenstrom";
    "volumetric efficiency on manifold state" => "Liefergrad, auf den Saugrohrzustand bezogen";
    "injection time a cycle" => "Einspritzzeit je Arbeitsspiel";
    "brake mean effective pressure" => "Effektiver Mitteldruck";
    "{p} at peak torque" => "{} bei höchstem Drehmoment";
    "mean piston speed" => "Mittlere Kolbengeschwindigkeit";
    "specific power" => "Hubraumleistung";
    "scavenging: pre-turbine pressure below manifold pressure" => "spülend: Druck vor Turbine unter dem Saugrohrdruck";
    "good at rated power" => "gut bei Nennleistung";
    "common with the small turbine of a road engine" => "üblich bei der kleinen Turbine eines Straßenmotors";
    "high" => "hoch";
    "restrictive: residual gas, knock and pumping work" => "drosselnd: Restgas, Klopfen und Ladungswechselarbeit";
    "not a number" => "keine Zahl";
    "above what manifold pressure and temperature allow: check the flow"
        => "mehr, als Saugrohrdruck und -temperatur zulassen: Massenstrom prüfen";
    "above 80 to 90 % the injectors are commonly called at their limit"
        => "über 80 bis 90 % gelten Einspritzventile gemeinhin als ausgereizt";
    "above what such engines usually show: ask for evidence" => "mehr, als solche Motoren üblicherweise zeigen: Nachweis verlangen";
    "above what road engines usually show: ask for evidence"
        => "mehr, als Straßenmotoren üblicherweise zeigen: Nachweis verlangen";
    // knock margins
    "margin expected on this fuel" => "mit diesem Kraftstoff ist Abstand zu erwarten";
    "undecided: the uncertainty is larger than the margin" => "unentschieden: die Unsicherheit ist größer als der Abstand";
    "knock expected on this fuel" => "mit diesem Kraftstoff ist Klopfen zu erwarten";
    "weight of the sensitivity by a published prior" => "Gewicht der Sensitivität nach veröffentlichten Erfahrungswerten";
    "requirement {n} ON against {} by published slopes" => "Oktanbedarf {} OZ gegenüber {} nach veröffentlichten Steigungen";
    "no margin: {p}" => "kein Abstand: {}";
    "not anchored: the job states no octane requirement; find one by a knock measurement and write it as requirement under [knock]"
        => "nicht verankert: der Auftrag nennt keinen Oktanbedarf; durch Klopfmessung bestimmen und als requirement unter [knock] eintragen";
    "the catalogue has no knock model for it" => "der Katalog hat dafür kein Klopfmodell";
    "RON {n} MON {n}" => "ROZ {} MOZ {}";
    "RON {n}" => "ROZ {}";
    "EN 228 unleaded petrol 95 (E5)" => "EN 228 Superbenzin 95 (E5)";
    "EN 228 unleaded petrol 95 (E10)" => "EN 228 Superbenzin 95 (E10)";
    "98/70/EC unleaded regular 91" => "98/70/EG Normalbenzin bleifrei 91";
    "Super Plus 98 (national practice)" => "Super Plus 98 (nationale Praxis)";
    "Premium pump grade declared RON {n}" => "Premiumkraftstoff, Angabe ROZ {}";
    "EN 15293 ethanol (E85)" => "EN 15293 Ethanolkraftstoff (E85)";
    "ASTM D5798 ethanol flex fuel" => "ASTM D5798 Ethanolkraftstoff";
    "JIS K 2202 No. {n}" => "JIS K 2202 Nr. {}";
};
