bayleaf.words("ou",{"out":"0:2,3,5,7,8,h;1:0,1,2,7,j,k;2:2,3,6,9,j,m,p,u;3:1,2,5,7,d,e,f,h,i","outer":"2:9","outline":"1:9,a","output":"0:i","outside":"0:6;1:d,k;2:7","outwards":"2:b,i;3:7,i"});
