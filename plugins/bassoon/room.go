package bassoon

import "canewright/plugins/sdk"

// room: the air the cane is worked in.
func room() []sdk.Dimension {
	return []sdk.Dimension{
		{
			Name: "room.humidity", Title: "humidity of the room", Aliases: []string{"humidity"},
			Kind: "humidity", Unit: "%", Subject: "batch",
			How: "near the bench, away from the water", Tool: "hygrometer",
			More: "damp", Less: "dry", Plausible: "5 .. 98 %",
			Sources: []sdk.Source{
				published(dryRoom, "35 to 50 % at home"),
				published(shrinking, "45 % in a shop; 15 to 20 % in winter without humidifying"),
				published(boardDry, "45 to 50 % is fine, 35 % is not"),
				published(boardDamp, "over 70 % is a problem"),
				published(operatorAir, "from 20 to 70 % within one evening"),
			},
		},
		{
			Name: "room.temperature", Title: "temperature of the room", Aliases: []string{"temperature"},
			Kind: "temperature", Unit: "°C", Subject: "batch",
			How: "near the bench, out of the sun", Tool: "thermometer",
			More: "warm", Less: "cold", Plausible: "0 .. 45 °C",
			Sources: []sdk.Source{memory("the range only; no source gives a temperature to work at")},
		},
	}
}
