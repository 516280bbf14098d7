package fault

var sensingSlow = Fault{
	Name: "sensing-slow",
	About: "The sensing line is partly plugged or damped too much, so the switch sees the pressure " +
		"late.",
	Part:    "sensor",
	Param:   "lag",
	Typical: 3, // s
	Source: "Common practice, no source. Typical value: 3 s, which on the gas bench nearly triples " +
		"the swing of pressure between lift and reseating.",
	Sign: "The valve opens late and reseats late, and the pressure swings widely about the values " +
		"at which the switch is set.",
}
