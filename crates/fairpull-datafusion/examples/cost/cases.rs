//! What is measured, and the invented table.

/// One call, and the query it is measured in.
pub struct Case {
    pub name: &'static str,
    /// The call of the function.
    pub call: &'static str,
    /// Which field of a struct is summed; empty where the result is a number.
    field: &'static str,
    /// What is asked of the same columns where the function is left out.
    plain: &'static str,
    /// The first so many rows, where all would take too long.
    pub rows: Option<u64>,
    /// Once for each job of six pulls.
    grouped: bool,
}

impl Case {
    /// The query that sums what the function gives.
    pub fn with(&self) -> String {
        let Self { call, field, .. } = self;
        let result =
            if field.is_empty() { (*call).to_owned() } else { format!("get_field({call}, '{field}')") };
        format!("SELECT sum(x) FROM (SELECT {result} AS x FROM pulls{}{})", self.limit(), self.groups())
    }

    /// The query that reads the same columns and sums, groups included.
    pub fn without(&self) -> String {
        let Self { plain, .. } = self;
        if self.grouped {
            format!("SELECT sum(x) FROM (SELECT max(power) AS x, {plain} AS y FROM pulls{})", self.groups())
        } else {
            format!("SELECT {plain} FROM pulls{}", self.limit())
        }
    }

    fn limit(&self) -> String {
        self.rows.map_or(String::new(), |n| format!(" WHERE pull < {n}"))
    }

    fn groups(&self) -> &'static str {
        if self.grouped { " GROUP BY job" } else { "" }
    }
}

const fn case(name: &'static str, call: &'static str, field: &'static str, plain: &'static str) -> Case {
    Case { name, call, field, plain, rows: None, grouped: false }
}

const fn few(rows: u64, case: Case) -> Case {
    Case { rows: Some(rows), ..case }
}

const fn jobs(case: Case) -> Case {
    Case { grouped: true, ..case }
}

const AIR: &str = "sum(pressure), sum(temperature), sum(humidity)";
const POWER_AND_AIR: &str = "sum(power), sum(pressure), sum(temperature), sum(humidity)";

pub const CASES: [Case; 16] = [
    case("`convert`, units constant", "convert(power, 'kW', 'PS')", "", "sum(power)"),
    case("`convert`, a unit in a column", "convert(power, 'kW', unit)", "", "sum(power), count(unit)"),
    case(
        "`vapour_pressure`",
        "vapour_pressure(temperature, humidity)",
        "",
        "sum(temperature), sum(humidity)",
    ),
    case(
        "`correction_factor`, standard constant",
        "correction_factor('iso-1585', pressure, temperature, humidity)",
        "",
        AIR,
    ),
    case(
        "`correction_factor`, standard and engine in columns",
        "correction_factor(standard, pressure, temperature, humidity, engine)",
        "",
        "sum(pressure), sum(temperature), sum(humidity), count(standard), count(engine)",
    ),
    case("`correction`", "correction('iso-1585', pressure, temperature, humidity)", "factor", AIR),
    case(
        "`knock_margin`, fuel constant",
        "knock_margin('en-228-95', requirement, 1.0, 'port')",
        "margin",
        "sum(requirement)",
    ),
    case(
        "`knock_margin`, fuel in a column",
        "knock_margin(fuel, requirement, 1.0, 'port')",
        "margin",
        "sum(requirement), count(fuel)",
    ),
    few(
        300_000,
        case(
            "`restate`, one site, air in columns",
            "restate(power, 'din-70020', 'crank', 'iso-1585', 'crank', pressure, temperature, humidity)",
            "low",
            POWER_AND_AIR,
        ),
    ),
    case(
        "`restate`, one site, air constant",
        "restate(power, 'din-70020', 'crank', 'iso-1585', 'crank', 99.0, 25.0, 50.0)",
        "low",
        "sum(power)",
    ),
    case(
        "`restate`, one site, air unknown",
        "restate(power, 'din-70020', 'crank', 'iso-1585', 'crank')",
        "low",
        "sum(power)",
    ),
    case(
        "`restate`, one site, air unknown, three standards in a column",
        "restate(power, standard, 'crank', 'sae-j1349', 'crank')",
        "low",
        "sum(power), count(standard)",
    ),
    few(
        2000,
        case(
            "`restate`, from wheel to crank, air unknown",
            "restate(power, 'din-70020', 'wheel', 'iso-1585', 'crank')",
            "low",
            "sum(power)",
        ),
    ),
    few(
        2000,
        case(
            "`restate`, from wheel to crank, air in columns",
            "restate(power, 'din-70020', 'wheel', 'iso-1585', 'crank', pressure, temperature, humidity)",
            "low",
            POWER_AND_AIR,
        ),
    ),
    jobs(case("`mean_power`, groups of six", "mean_power(power)", "low", "count(power)")),
    jobs(case("`gain`, groups of six", "gain(power, state, 'stock', 'tuned')", "low", "count(state)")),
];

/// Writes invented pulls, six a job in one air, half of them tuned.
pub fn pulls(rows: u64, folder: &str) -> String {
    format!(
        "COPY (SELECT pull, job, state, 120 + job * 7919 % 30011 / 100.0 + pull * 104729 % 997 / 400.0
                + CASE state WHEN 'tuned' THEN 9 ELSE 0 END AS power,
            97.5 + job * 1299709 % 401 / 100.0 AS pressure, 16 + job * 15485863 % 121 / 10.0 AS temperature,
            20 + job * 32452843 % 401 / 10.0 AS humidity,
            CASE job % 2 WHEN 0 THEN 'PS' ELSE 'hp' END AS unit,
            CASE job % 3 WHEN 0 THEN 'iso-1585' WHEN 1 THEN 'din-70020' ELSE 'un-r85' END AS standard,
            CASE job % 2 WHEN 0 THEN 'charging = \"turbocharged\"' ELSE 'charging = \"none\"' END AS engine,
            CASE job % 2 WHEN 0 THEN 'en-228-95' ELSE 'RON 98 MON 88' END AS fuel,
            88 + pull * 7 % 101 / 10.0 AS requirement
        FROM (SELECT value AS pull, value / 6 AS job, CASE WHEN value % 6 < 3 THEN 'stock' ELSE 'tuned' END AS state
            FROM generate_series(0, {rows} - 1))) TO '{folder}/' STORED AS PARQUET"
    )
}
