bayleaf.words("ed",{"edge":"0:6,o;1:3,4,i,j;2:0,h,i,l;3:0,7,9,g","edges":"0:a;3:3,h"});
