package fault

var bleedPlugged = Fault{Name: "bleed-plugged", Part: "piloted-valve", Param: "bleed.area"}
