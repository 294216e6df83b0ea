package paper

func (m *maker) strips() {}
