//! Names and units of the columns, in several languages and places.

use super::*;

pub fn shapes() -> Vec<Shape> {
    let rows = |head: &str| {
        table(head, |i| {
            format!("{},{:.1},{:.0}", clock(840, i), tank(i), flue(i))
        })
    };
    let words = |head: &str| {
        table(head, |i| {
            format!("{};{};{}", clock(840, i), comma(tank(i)), comma(flue(i)))
        })
    };
    vec![
        shape(
            "row of units",
            rows("time,tank,flue\nhh:mm,°C,°C\n"),
            Heat(0.01),
        ),
        shape(
            "row of units in brackets",
            rows("time,tank,flue\n,(degC),(degC)\n"),
            Heat(0.01),
        ),
        shape(
            "names over two lines",
            rows(",Tank,Flue\ntime,top (C),gas (C)\n"),
            Heat(0.01),
        ),
        shape(
            "units above names",
            rows(",C,C\ntime,tank,flue\n"),
            Heat(0.01),
        ),
        shape(
            "no names, one column",
            table("", |i| format!("{},{:.1}", clock(840, i), tank(i))),
            Heat(0.01),
        ),
        shape(
            "units in the cells",
            table("time,tank,flue\n", |i| {
                format!("{},{:.1} °C,{:.0} °C", clock(840, i), tank(i), flue(i))
            }),
            Heat(0.01),
        ),
        shape(
            "letters in the cells",
            table("time,tank,flue\n", |i| {
                format!(
                    "{},{:.1}F,{:.0}F",
                    clock(840, i),
                    fahrenheit(tank(i)),
                    fahrenheit(flue(i))
                )
            }),
            Heat(0.01),
        ),
        shape(
            "kelvin",
            table("time,tank_K\n", |i| {
                format!("{},{:.1}", clock(840, i), tank(i) + 273.15)
            }),
            Heat(0.01),
        ),
        shape(
            "fahrenheit",
            table("time,tank_F\n", |i| {
                format!("{},{:.1}", clock(840, i), fahrenheit(tank(i)))
            }),
            Heat(0.01),
        ),
        shape(
            "French",
            words("Heure;Ballon haut (°C);Fumées (°C)\n"),
            Heat(0.01),
        ),
        shape(
            "Spanish",
            words("Hora;Depósito (°C);Humos (°C)\n"),
            Heat(0.01),
        ),
        shape(
            "Italian",
            words("Ora;Serbatoio (°C);Fumi (°C)\n"),
            Heat(0.01),
        ),
        shape(
            "Portuguese",
            words("Hora;Tanque (°C);Chaminé (°C)\n"),
            Heat(0.01),
        ),
        shape(
            "Dutch",
            words("Tijd;Vat boven (°C);Rookgas (°C)\n"),
            Heat(0.01),
        ),
        shape(
            "Swedish",
            words("Tid;Ackumulatortank (°C);Rökgas (°C)\n"),
            Heat(0.01),
        ),
        shape(
            "Danish",
            words("Tid;Beholder (°C);Røggas (°C)\n"),
            Heat(0.01),
        ),
        shape(
            "Finnish",
            words("Aika;Varaaja (°C);Savukaasu (°C)\n"),
            Heat(0.01),
        ),
        shape(
            "Polish",
            words("Czas;Zbiornik (°C);Spaliny (°C)\n"),
            Heat(0.01),
        ),
        shape("Czech", words("Čas;Nádrž (°C);Spaliny (°C)\n"), Heat(0.01)),
        shape(
            "number of the row first",
            table("#,time,tank_C\n", |i| {
                format!("{},{},{:.1}", i + 1, clock(840, i), tank(i))
            }),
            Heat(0.01),
        ),
        shape(
            "time last",
            table("tank_C,flue_C,time\n", |i| {
                format!("{:.1},{:.0},{}", tank(i), flue(i), clock(840, i))
            }),
            Heat(0.01),
        ),
        shape(
            "two columns of one name",
            table("time,temp C,temp C\n", |i| {
                format!("{},{:.1},{:.0}", clock(840, i), tank(i), flue(i))
            }),
            Says(&["tank", "temp C"]),
        ),
        with(
            shape(
                "two columns of one name, by number",
                table("time,temp C,temp C\n", |i| {
                    format!("{},{:.1},{:.0}", clock(840, i), tank(i), flue(i))
                }),
                Heat(0.01),
            ),
            "[[channel]]\ncolumn = \"#2\"\nas = \"tank\"\n[[channel]]\ncolumn = \"#3\"\nas = \"flue\"\n",
        ),
        shape(
            "names again after a restart",
            plain().replace("15:00", "time,tank_C,flue_C\n15:00"),
            Heat(0.01),
        ),
        shape(
            "unit not told",
            table("time,tank\n", |i| {
                format!("{},{:.0}", clock(840, i), 45.0 + tank(i) / 2.0)
            }),
            Says(&["°C or in °F"]),
        ),
        shape(
            "long",
            {
                let mut text = String::from("time,probe,value\n");
                for i in 0..ROWS {
                    let _ = writeln!(
                        text,
                        "{t},tank C,{:.1}\n{t},flue C,{:.0}",
                        tank(i),
                        flue(i),
                        t = clock(840, i)
                    );
                }
                text
            },
            Heat(0.01),
        ),
    ]
}
