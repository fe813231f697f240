bayleaf.words("vo",{"voltage":"0:1,4,j,s;2:t","volume":"3:c"});
