"""What the press does to the work: functions of floats and arrays that know no layup."""
