package tool

// Class is what a safety note selects on, so that a note need not list every
// tool and every bottle.
type Class struct {
	Name    string
	Means   string
	Hazard  bool // some note must answer to it
	Evening bool // said of a whole evening, not of a tool or material
}

// Classes lists all classes, in a fixed order.
func Classes() []Class {
	return []Class{
		{Name: "blade", Means: "an edge that cuts, open or inside a machine", Hazard: true},
		{Name: "loose blade", Means: "a thin blade without a fixed handle, or a brittle one", Hazard: true},
		{Name: "splitting", Means: "driven through tube cane", Hazard: true},
		{Name: "shaping", Means: "an edge led along a metal form", Hazard: true},
		{Name: "machine", Means: "a sliding carriage with an edge under it", Hazard: true},
		{Name: "lever", Means: "a lever or spring drives the edge", Hazard: true},
		{Name: "point", Means: "a point or split edge pushed by hand", Hazard: true},
		{Name: "pushed in", Means: "pushed into a tube that the other hand holds", Hazard: true},
		{Name: "motor", Means: "turns by itself", Hazard: true},
		{Name: "sharpening", Means: "fresh edges near fingertips", Hazard: true},
		{Name: "cutting wire", Means: "sends wire ends flying", Hazard: true},
		{Name: "pliers", Means: "grips and pinches", Hazard: true},
		{Name: "hot water", Means: "scalds", Hazard: true},
		{Name: "hot tool", Means: "metal or air hot enough to burn, without a flame", Hazard: true},
		{Name: "flame", Means: "a naked flame", Hazard: true},
		{Name: "ignition", Means: "can light the vapour of a solvent", Hazard: true},
		{Name: "molten wax", Means: "wax made liquid by heat", Hazard: true},
		{Name: "dust", Means: "makes fine dust", Hazard: true},
		{Name: "adhesive", Means: "glues", Hazard: true},
		{Name: "finish", Means: "coats", Hazard: true},
		{Name: "solvent", Means: "dissolves and evaporates", Hazard: true},
		{Name: "flammable", Means: "its vapour burns; assumed where the product is not named", Hazard: true},
		{Name: "solvent cement", Means: "glue or thinner that lights below room temperature", Hazard: true},
		{Name: "varnish", Means: "a solvent film that dries to a coat", Hazard: true},
		{Name: "spirit", Means: "alcohol, or a finish dissolved in it", Hazard: true},
		{Name: "cyanoacrylate", Means: "instant glue", Hazard: true},
		{Name: "epoxy", Means: "two parts that react", Hazard: true},
		{Name: "unknown product", Means: "a glue, finish or liquid nobody can name", Hazard: true},
		{Name: "unknown material", Means: "not in the catalogue", Hazard: true},
		{Name: "unknown tool", Means: "not in the catalogue", Hazard: true},
		{Name: "disinfectant", Means: "kills germs and irritates", Hazard: true},
		{Name: "mould", Means: "mouldy cane or reed", Hazard: true},
		{Name: "wire", Means: "springs when cut", Hazard: true},
		{Name: "metal", Means: "metal that stays near lips and fingers", Hazard: true},
		{Name: "cotton", Means: "cotton or perhaps cotton: runs hot with instant glue"},
		{Name: "thread", Means: "thread and string"},
		{Name: "wax", Means: "cold wax"},
		{Name: "cane", Means: "cane and what is made of it"},
		{Name: "gauge", Means: "reads a number"},
		{Name: "holder", Means: "holds, marks or carries"},
		{Name: "minor", Means: "a learner under 18 or a class is at the bench", Hazard: true, Evening: true},
		{Name: "leaving", Means: "the evening ends", Hazard: true, Evening: true},
		{Name: "carrying", Means: "tools or chemicals leave the house: travel, post, sale, loan", Hazard: true, Evening: true},
	}
}
