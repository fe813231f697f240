bayleaf.words("no",{"no":"0:2,b;1:0,h,k,l;2:1;3:d,f,l,o","nobody":"1:2","none":"0:g","not":"3:e","note":"0:j;3:8","nothing":"3:8","notice":"1:e;3:7,k","now":"0:l;1:1"});
